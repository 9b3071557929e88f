"""Activity networks: properties on random networks, and refusals that name what is wrong."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from halfbore.errors import InputError
from halfbore.numerics.network import Network, critical_path, criticality, forward, network, span_between

LENGTHS = st.floats(0.0, 100.0, allow_subnormal=False)


@st.composite
def cases(draw: st.DrawFn) -> tuple[dict[str, list[str]], np.ndarray]:
    """Draw a network whose columns are in any order, and one set of durations."""
    count = draw(st.integers(1, 8))
    names = [f"t{i}" for i in range(count)]
    waits = {
        n: draw(st.lists(st.sampled_from(names[:i]), max_size=3)) if i else [] for i, n in enumerate(names)
    }
    shuffled = {n: waits[n] for n in draw(st.permutations(names))}
    return shuffled, np.array(draw(st.lists(LENGTHS, min_size=count, max_size=count)))


def longest(tasks: dict[str, list[str]], length: dict[str, float], name: str) -> float:
    """Return the finish of a task by plain recursion over its predecessors."""
    return length[name] + max((longest(tasks, length, p) for p in tasks[name]), default=0.0)


@given(cases())
def test_finish_is_the_longest_way_through_the_predecessors(
    case: tuple[dict[str, list[str]], np.ndarray],
) -> None:
    tasks, length = case
    _, finish = forward(network(tasks), length)
    by_name = dict(zip(tasks, length, strict=True))
    assert finish == pytest.approx([longest(tasks, by_name, name) for name in tasks])


@given(cases(), st.integers(0, 7), st.floats(0.0, 50.0))
def test_a_longer_task_never_shortens_the_project(
    case: tuple[dict[str, list[str]], np.ndarray], task: int, more: float
) -> None:
    tasks, length = case
    net, longer = network(tasks), length.copy()
    longer[task % len(length)] += more
    assert critical_path(net, longer).total >= critical_path(net, length).total


@given(cases(), st.integers(0, 7))
def test_slack_is_what_a_task_may_grow_without_moving_the_end(
    case: tuple[dict[str, list[str]], np.ndarray], task: int
) -> None:
    tasks, length = case
    net, i = network(tasks), task % len(length)
    path, longer = critical_path(net, length), length.copy()
    longer[i] += path.slack[i]
    assert critical_path(net, longer).total == pytest.approx(path.total)
    longer[i] += 1.0
    assert critical_path(net, longer).total == pytest.approx(path.total + 1.0)


@given(cases())
def test_draws_equal_one_row_at_a_time(case: tuple[dict[str, list[str]], np.ndarray]) -> None:
    tasks, length = case
    net = network(tasks)
    rows = np.stack([length, length[::-1], length + 1.0])
    starts, finishes = forward(net, rows)
    paths = [critical_path(net, row) for row in rows]
    assert np.array_equal(starts, [p.early_start for p in paths])
    assert np.array_equal(finishes, [p.early_finish for p in paths])
    share = [np.mean([name in p.critical for p in paths]) for name in net.names]
    assert criticality(net, rows) == pytest.approx(share)


@given(cases())
def test_critical_tasks_fill_the_whole_project(case: tuple[dict[str, list[str]], np.ndarray]) -> None:
    tasks, length = case
    path = critical_path(network(tasks), length)
    on = np.isin(list(tasks), path.critical)
    assert path.early_start[on].min() == 0.0
    assert path.early_finish[on].max() == path.total
    assert length[on].sum() >= path.total * (1.0 - 1e-9)
    assert np.all(path.slack >= -1e-9 * path.total)
    assert path.late_finish - path.late_start == pytest.approx(length)


def net_of_three() -> Network:
    return network({"close up": ["fit", "clean"], "fit": ["remove"], "remove": [], "clean": ["remove"]})


def test_columns_keep_the_order_given_and_tasks_run_after_what_they_wait_for() -> None:
    net = net_of_three()
    assert net.names == ("close up", "fit", "remove", "clean")
    assert net.order == (2, 1, 3, 0)
    assert critical_path(net, [1.0, 4.0, 2.0, 3.0]).critical == ("remove", "fit", "close up")


def test_a_clock_runs_from_a_start_to_an_end() -> None:
    net = net_of_three()
    starts, finishes = forward(net, [[1.0, 4.0, 2.0, 3.0], [1.0, 1.0, 2.0, 3.0]])
    assert span_between(net, starts, finishes, "remove", "close up").tolist() == [7.0, 6.0]
    assert span_between(net, starts, finishes, "fit", "fit").tolist() == [4.0, 1.0]


def test_a_clock_that_runs_backwards_or_has_no_task_is_refused() -> None:
    net = net_of_three()
    starts, finishes = forward(net, [1.0, 4.0, 2.0, 3.0])
    with pytest.raises(InputError, match=r"stops before it starts.*close up → remove"):
        span_between(net, starts, finishes, "close up", "remove")
    with pytest.raises(InputError, match=r"no such task.*'fitt'.*fit"):
        span_between(net, starts, finishes, "fitt", "close up")


def test_every_unknown_predecessor_is_named() -> None:
    with pytest.raises(InputError) as caught:
        network({"a": ["x"], "b": ["a", "y"]})
    assert [(p.where, p.value) for p in caught.value.problems] == [("a", "x"), ("b", "y")]


@pytest.mark.parametrize(
    ("tasks", "circle"),
    [
        ({"a": ["a"]}, {"a"}),
        ({"s": [], "a": ["s", "c"], "b": ["a"], "c": ["b"], "d": ["c"]}, {"a", "b", "c"}),
    ],
)
def test_a_circle_is_named_and_nothing_outside_it(tasks: dict[str, list[str]], circle: set[str]) -> None:
    with pytest.raises(InputError, match="circle") as caught:
        network(tasks)
    way = caught.value.problems[0].value.split(" → ")
    assert way[0] == way[-1]
    assert set(way) == circle


def test_a_network_without_tasks_is_refused() -> None:
    with pytest.raises(InputError, match="without tasks"):
        network({})


@pytest.mark.parametrize("bad", [-1.0, float("nan"), float("inf")])
def test_a_bad_duration_names_its_task(bad: float) -> None:
    with pytest.raises(InputError, match=f"fit: not a duration; read '{bad:g}'"):
        forward(net_of_three(), [[1.0, 4.0, 2.0, 3.0], [1.0, bad, 2.0, 3.0]])


@pytest.mark.parametrize("shape", [(3,), (2, 3), (1, 1, 4), ()])
def test_a_wrong_number_of_columns_is_refused(shape: tuple[int, ...]) -> None:
    with pytest.raises(InputError, match="do not match the tasks"):
        forward(net_of_three(), np.ones(shape))


def test_the_critical_path_is_of_one_set_of_durations() -> None:
    with pytest.raises(InputError, match="one set of durations"):
        critical_path(net_of_three(), np.ones((2, 4)))
