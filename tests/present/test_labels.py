"""Labels never collide, whatever they say and wherever they want to be."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from halfbore.present.labels import Box, Label, Spot, Words, cut, edges_of, place, wrapped
from halfbore.present.metrics import text_width
from halfbore.present.svg import Group, Line, Pen, Poly, Rect

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


def test_a_label_lies_across_a_line_only_where_all_its_spots_do() -> None:
    label = Label((Words("46.9 kN", "#000000"),), (Spot(100.0, 100.0, 1, 1), Spot(100.0, 100.0, -1, 1)))
    upright = Box(120.0, 0.0, 120.0, 300.0)
    [clear] = place([label], [], 0.0, WIDTH, lines=[upright])
    assert clear.box.right == 100.0
    [across] = place([label], [Box(40.0, 90.0, 99.0, 200.0)], 0.0, WIDTH, lines=[upright])
    assert across.box.left == 100.0 and across.leader is None


def test_the_edges_of_shapes_are_their_upright_and_level_lines() -> None:
    pen = Pen("#000000")
    shapes = Group(
        (
            Rect(0.0, 0.0, 10.0, 5.0, pen),
            Rect(0.0, 0.0, 10.0, 5.0),
            Line((0.0, 0.0), (9.0, 9.0), pen),
            Poly(((2.0, 1.0), (2.0, 7.0), (8.0, 9.0)), pen),
        )
    )
    assert list(edges_of([shapes])) == [
        *(
            Box(0.0, 0.0, 0.0, 5.0),
            Box(10.0, 0.0, 10.0, 5.0),
            Box(0.0, 0.0, 10.0, 0.0),
            Box(0.0, 5.0, 10.0, 5.0),
        ),
        Box(2.0, 1.0, 2.0, 7.0),
    ]


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
