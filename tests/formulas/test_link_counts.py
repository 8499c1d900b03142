"""Counts of links against chains laid and turned link by link."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas.gear_phase import turns_until_gears_meet
from endfloat.formulas.link_counts import links_needed, marked_links, odd_link, turns_until_links_meet


def turned_by_hand(strand: list[int], wheels: list[int]) -> int:
    """Turn the crank one turn after another until chain and wheels are back on their marks."""
    turns = 1
    while any(turns * wheels[0] % other for other in [*strand, *wheels]):
        turns += 1
    return turns


@given(st.integers(20, 80), st.lists(st.integers(8, 24), min_size=1, max_size=3))
def test_coloured_links_meet_again_when_the_chain_and_every_wheel_are_back(links: int, wheels: list[int]) -> None:
    found = turns_until_links_meet(links=float(links), teeth=np.array(wheels, dtype=float))
    assert float(found) == turned_by_hand([links], wheels)


@given(st.lists(st.integers(8, 40), min_size=1, max_size=3))
def test_gear_marks_meet_again_when_every_gear_is_back(wheels: list[int]) -> None:
    assert float(turns_until_gears_meet(teeth=np.array(wheels, dtype=float))) == turned_by_hand([], wheels)


def test_two_turns_bring_back_the_marks_of_the_wheels_but_seldom_the_coloured_links() -> None:
    """128 links on 21 teeth with a cam of 42 take 128 turns; 126 links are six turns of the crank and take six."""
    chain = np.array([128.0, 126.0, 42.0])
    found = turns_until_links_meet(links=chain, teeth=np.array([21.0, 42.0]))
    assert np.asarray(found).tolist() == [128, 6, 2]
    assert float(turns_until_gears_meet(teeth=np.array([21.0, 42.0]))) == 2


def test_many_unlike_wheels_do_not_overflow() -> None:
    wheels = np.array([397.0, 389, 383, 379, 373, 367, 359, 353])
    found = float(turns_until_gears_meet(teeth=wheels))
    assert found == pytest.approx(float(np.prod(wheels[1:])))


@given(st.floats(0.01, 500))
def test_the_chain_that_goes_on_is_even_and_less_than_two_links_too_long(pitches: float) -> None:
    links = float(links_needed(pitches=pitches))
    assert pitches <= links < pitches + 2
    assert float(odd_link(links=links)) == 0
    assert float(odd_link(links=links + 1)) == 1


@given(st.lists(st.integers(0, 40), min_size=1, max_size=5))
def test_coloured_links_are_found_where_a_painted_chain_has_them(between: list[int]) -> None:
    painted = [link for plain in between for link in [True] + [False] * plain]
    found = marked_links(between=np.array(between, dtype=float))
    assert float(found.links) == len(painted)
    assert [int(place) - 1 for place in found.place] == [k for k, coloured in enumerate(painted) if coloured]


def test_counts_that_are_not_whole_are_refused_and_told_apart() -> None:
    for call, name in (
        (lambda bad: odd_link(links=bad), "links"),
        (lambda bad: marked_links(between=bad), "between"),
        (lambda bad: turns_until_links_meet(links=bad, teeth=np.array([21.0, 42.0])), "links"),
        (lambda bad: turns_until_links_meet(links=128.0, teeth=bad), "teeth"),
        (lambda bad: turns_until_gears_meet(teeth=bad), "teeth"),
    ):
        with pytest.raises(OutOfRange) as caught:
            call(np.array([20.0, 20.5, np.nan]))
        assert caught.value.name == name
        assert caught.value.bad.tolist()[0] is False
        with pytest.raises(OutOfRange) as caught:
            call(np.array([20.0, 20.5]))
        assert caught.value.bad.tolist() == [False, True]
