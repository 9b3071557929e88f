"""Labels never collide, whatever they say and wherever they want to be."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from halfbore.present.labels import Box, Label, Spot, Words, cut, place, wrapped
from halfbore.present.metrics import text_width

WIDTH = 680.0

places = st.floats(0.0, WIDTH)
heights = st.floats(-200.0, 200.0)
boxes = st.builds(
    lambda x, y, w, h: Box(x, y, x + w, y + h), places, heights, st.floats(1.0, 300.0), st.floats(1.0, 80.0)
)
spots = st.builds(Spot, places, heights, st.sampled_from([-1, 0, 1]), st.sampled_from([-1, 0, 1]))
labels = st.builds(
    lambda texts, where, drift, points: Label(
        tuple(Words(t, "#000000") for t in texts), tuple(where), drift, points_at=points
    ),
    st.lists(st.text("abc 0123·", min_size=1, max_size=40), min_size=1, max_size=4),
    st.lists(spots, min_size=1, max_size=4),
    st.sampled_from([-1, 1]),
    st.one_of(st.none(), st.tuples(places, heights)),
)


@given(st.lists(labels, max_size=12), st.lists(boxes, max_size=10))
def test_labels_stay_clear_of_each_other_and_of_what_is_taken(given: list[Label], taken: list[Box]) -> None:
    placed = place(given, taken, 0.0, WIDTH)
    assert [p.label for p in placed] == given
    assert not any(a.box.meets(b.box) for a, b in combinations(placed, 2))
    assert not any(p.box.meets(box) for p in placed for box in taken)
    assert all(p.box.left >= -1e-9 and p.box.right <= WIDTH + 1e-9 for p in placed)


def test_the_first_free_spot_is_taken() -> None:
    label = Label((Words("46.9 kN", "#000000"),), (Spot(100.0, 100.0, 1, 1), Spot(100.0, 100.0, -1, 1)))
    [free] = place([label], [], 0.0, WIDTH)
    assert free.box.left == 100.0
    [other] = place([label], [Box(101.0, 90.0, 200.0, 200.0)], 0.0, WIDTH)
    assert other.box.right == 100.0 and other.leader is None


def test_a_label_that_moved_away_points_back() -> None:
    label = Label((Words("drum", "#000000"),), (Spot(100.0, 100.0, 0, -1),), -1, points_at=(100.0, 100.0))
    [moved] = place([label], [Box(60.0, 50.0, 140.0, 110.0)], 0.0, WIDTH)
    assert moved.box.bottom <= 50.0
    assert moved.leader == ((100.0, moved.box.bottom), (100.0, 100.0))


@given(st.text(min_size=0, max_size=120), st.floats(20.0, 300.0))
def test_names_fit_into_two_lines(text: str, width: float) -> None:
    lines = wrapped(text, width, 12.0)
    assert len(lines) <= 2
    assert all(text_width(line, 12.0) <= max(width, text_width("…", 12.0)) for line in lines)


def test_a_cut_name_says_so() -> None:
    assert cut("short", 200.0, 12.0) == "short"
    assert cut("a name that is much too long for its place", 80.0, 12.0).endswith("…")
