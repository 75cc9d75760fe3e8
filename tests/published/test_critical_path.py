"""Order of work held against two networks of the literature.

F. S. Hillier, G. J. Lieberman, Introduction to Operations Research, 8th edition, chapter 22
(project management with PERT/CPM): the prototype example of the Reliable Construction Co., table
22.1 and figures 22.3 to 22.5, durations in weeks. Digits from memory.

R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM Journal on Applied Mathematics 17
(1969) 416-429: nine tasks on three processors, and the three changes for the better that make the
schedule longer. Digits from memory.
"""

import pytest

from hangtrue.hang.graph import Activity, critical_path, schedule

HOUSE = {
    "A": ("excavate", 2, ""),
    "B": ("lay the foundation", 4, "A"),
    "C": ("put up the rough wall", 10, "B"),
    "D": ("put up the roof", 6, "C"),
    "E": ("install the exterior plumbing", 4, "C"),
    "F": ("install the interior plumbing", 5, "E"),
    "G": ("put up the exterior siding", 7, "D"),
    "H": ("do the exterior painting", 9, "EG"),
    "I": ("do the electrical work", 7, "C"),
    "J": ("put up the wallboard", 8, "FI"),
    "K": ("install the flooring", 4, "J"),
    "L": ("do the interior painting", 5, "J"),
    "M": ("install the exterior fixtures", 2, "H"),
    "N": ("install the interior fixtures", 6, "KL"),
}
SLACK = {"D": 4, "G": 4, "H": 4, "I": 2, "K": 1, "M": 4}


def house() -> list[Activity]:
    return [
        Activity(id=name, duration=weeks, after=tuple(after))
        for name, (_, weeks, after) in HOUSE.items()
    ]


def test_the_house_takes_44_weeks() -> None:
    assert critical_path(house()).duration == 44


def test_the_critical_path_of_the_house() -> None:
    assert "".join(critical_path(house()).critical) == "ABCEFJLN"


@pytest.mark.parametrize("name", HOUSE)
def test_the_slack_of_the_house(name: str) -> None:
    assert critical_path(house()).floats[name].slack == SLACK.get(name, 0)


def test_with_people_enough_the_house_takes_as_long_as_its_critical_path() -> None:
    assert max(slot.finish for slot in schedule(house(), crew=14)) == 44


def graham(*, shorter: float = 0.0, free: tuple[int, ...] = ()) -> list[Activity]:
    """Nine tasks; T9 waits for T1, T5 to T8 for T4, but those that are free of it."""
    times = (3, 2, 2, 2, 4, 4, 4, 4, 9)
    after = {9: ("T1",)} | {i: ("T4",) for i in (5, 6, 7, 8) if i not in free}
    return [
        Activity(id=f"T{i}", duration=t - shorter, after=after.get(i, ()))
        for i, t in enumerate(times, 1)
    ]


@pytest.mark.parametrize(
    ("processors", "shorter", "free", "finish"),
    [
        pytest.param(3, 0.0, (), 12, id="as it is"),
        pytest.param(4, 0.0, (), 15, id="one processor more"),
        pytest.param(3, 1.0, (), 13, id="every task one shorter"),
        pytest.param(3, 0.0, (5, 6), 16, id="two constraints fewer"),
    ],
)
def test_the_anomalies_of_list_scheduling(
    processors: int, shorter: float, free: tuple[int, ...], finish: float
) -> None:
    """The list is T1 to T9; each change for the better makes the whole take longer."""
    work = graham(shorter=shorter, free=free)
    slots = schedule(work, crew=processors, first=[a.id for a in work])
    assert max(slot.finish for slot in slots) == finish
