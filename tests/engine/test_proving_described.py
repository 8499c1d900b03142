"""Every kind of bad proving gets a message with place, found, expected and remedy."""

import pytest

from cast import EXAMPLES
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine, still_to_look_up

GOOD = """\
name: Test twin
layout: twin
places: {cylinder: {names: [1, 2]}}
characteristics:
  leak: {of: cylinder, at: cylinder, kind: pressure, method: leak-down}
  stroke: {of: crank, at: cylinder, method: drawing, given: 70 mm}
operations:
  wash: {title: Wash, minutes: 10}
proving:
  priming:
    spin: {title: Spin, shows: {gauge: oil, low: 1.0 bar, page: 6}}
  ready:
    built: {what: Built, sees: every step done, until: wash}
    primed: {what: Primed, sees: every priming step done}
    levels: {what: Levels, who: first}
    stop: {what: Stop, who: second}
  gauges:
    oil: {title: Oil, unit: bar, limits: [{low: 2 bar, high: 6 bar, from_speed: 2000 rpm, page: 6}]}
    speed: {title: Speed, unit: rpm}
    noise: {title: Noise, words: [even, knock]}
  stop_now:
    no_oil: {gauge: oil, below: 0.8 bar, after: 8 s, say: No oil., page: 6}
    knock: {gauge: noise, hears: [knock], say: Knock.}
  run_in:
    short: {title: Short, lasts: 20 min}
  recheck:
    dry: {what: Dry, sort: leaks, after: short}
  compare:
    leak: {of: leak, title: Leak-down}
"""


def test_a_right_description_is_read_and_a_blank_is_counted() -> None:
    engine = read_engine(GOOD.encode(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert still_to_look_up(engine) == []
    blank = GOOD.replace("below: 0.8 bar", "below: ").replace("low: 2 bar, high: 6 bar, ", "")
    blank = blank.replace("lasts: 20 min", "lasts: ").replace("low: 1.0 bar, ", "")
    engine = read_engine(blank.encode(), name="engine.yaml")
    assert isinstance(engine, Engine), engine
    assert still_to_look_up(engine) == [
        "No oil. The limit that stops the engine, page 6",
        "Oil, its limit, page 6",
        "Spin, what its gauge must show, page 6",
        "run-in, Short, how long",
    ]


@pytest.mark.parametrize(
    ("old", "new", "code", "line", "words"),
    [
        ("gauge: oil, low", "gauge: oill, low", "unknown_gauge", 11, "Did you mean `oil`?"),
        ("low: 1.0 bar", "low: 1.0 °C", "wrong_unit", 11, "temperature, not pressure"),
        ("1.0 bar, page: 6", "1.0 bar", "limit_without_page", 11, "page"),
        ("until: wash", "until: wsh", "unknown_operation", 13, "Did you mean `wash`?"),
        ("who: first}", "who: first, until: wash}", "until_of_nothing", 15, "every step done"),
        ("who: first}", "who: first, sees: no clock running}", "who_or_sees", 15, "Keep one"),
        ("who: second", "who: first", "one_person_only", 12, "`who: second`"),
        ("who: second", "who: third", "wrong_value", 16, "'first'"),
        ("sees: every step done, until: wash", "who: first", "not_asked_for", 12, "sees: every step done"),
        ("sees: every priming step done", "who: first", "not_asked_for", 12, "every priming step done"),
        ("unit: bar,", "unit: brr,", "unknown_unit", 18, "`brr`"),
        ("unit: rpm", "unit: rpm, words: [slow]", "unit_or_words", 19, "Keep one"),
        ("from_speed: 2000 rpm", "from_speed: 2000 bar", "wrong_unit", 18, "speed"),
        ("unit: rpm", "unit: mm", "no_speed_gauge", 18, "unit: rpm"),
        ("low: 2 bar", "low: 7 bar", "low_above_high", 18, "Swap the two"),
        ("below: 0.8 bar", "below: 0.8 bar, above: 9 bar", "one_condition", 22, "above, below"),
        ("below: 0.8 bar, ", "", "one_condition", 22, "no condition"),
        ("after: 8 s", "after: 8 bar", "wrong_unit", 22, "time"),
        ("0.8 bar", "0.8", "missing_unit", 22, "unit after the number"),
        ("hears: [knock]", "hears: [nock]", "unknown_word", 23, "Did you mean `knock`?"),
        ("hears: [knock]", "above: 3 bar", "amount_of_words", 23, "Name the words"),
        ("lasts: 20 min", "lasts: 20 bar", "wrong_unit", 25, "a time or a distance"),
        ("lasts: 20 min", "lasts: 0 min", "not_above_nought", 25, "more than nought"),
        ("after: short", "after: shrt", "unknown_stage", 27, "Did you mean `short`?"),
        ("sort: leaks", "sort: leaks, joint: head", "unknown_joint", 27, "joint"),
        ("of: leak", "of: lek", "unknown_characteristic", 29, "Did you mean `leak`?"),
        ("of: leak", "of: stroke", "given_measured", 29, "gives"),
        ("  stop_now:", "  stop_nwo:", "unknown_word", 21, "Did you mean `stop_now`?"),
    ],
)  # fmt: skip
def test_each_error_of_proving_says_where_and_what_to_do(old: str, new: str, code: str, line: int, words: str) -> None:
    section = GOOD.index("proving:")
    changed = GOOD[:section] + GOOD[section:].replace(old, new, 1)
    assert changed != GOOD
    found = read_engine(changed.encode(), name="engine.yaml")
    assert isinstance(found, list), "the file was accepted"
    assert code in [each.code for each in found], found
    problem = next(each for each in found if each.code == code)
    assert problem.place.startswith(f"engine.yaml:{line}:"), problem.place
    assert words in problem.text()
    assert problem.remedy


def test_bolts_of_single_use_are_never_pulled_again() -> None:
    raw = (EXAMPLES / "wrenhallow-90-8" / "engine.yaml").read_text()
    again = raw.replace("sort: bolts, after: first_heat", "sort: bolts, after: first_heat, joint: left_head")
    assert again != raw
    found = read_engine(again.encode(), name="engine.yaml")
    assert isinstance(found, list)
    assert [each.code for each in found] == ["pulled_again"]
    assert "never pulled again" in found[0].remedy


@pytest.mark.parametrize("folder", ["wrenhallow-90-8", "tolvenny-1185", "ottermole-3-165"])
def test_each_example_is_proved_by_two_people_with_a_stop_for_oil_and_for_noise(folder: str) -> None:
    engine = read_engine((EXAMPLES / folder / "engine.yaml").read_bytes(), name="engine.yaml")
    assert isinstance(engine, Engine)
    assert engine.proving is not None
    assert all(any(item.asked_of(role) for item in engine.proving.ready.values()) for role in ("first", "second"))
    rules = engine.proving.stop_now.values()
    assert any(rule.below is not None and rule.after is not None for rule in rules)
    assert any(rule.hears for rule in rules)
    assert all(rule.page for rule in rules)
