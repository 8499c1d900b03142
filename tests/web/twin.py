"""An engine small enough to be built in two steps, and proved: for tests of the stage Prove."""

from endfloat.store.memory import MemoryStore
from endfloat.workshop.build import confirm_step, lay_out_order
from endfloat.workshop.open_job import open_job
from endfloat.workshop.ports import Clock

ENGINE = """\
name: Test twin
invented: true
layout: twin
places:
  cylinder: {names: [1, 2]}
characteristics:
  leak: {of: cylinder, at: cylinder, kind: pressure, method: leak-down}
operations:
  wash: {title: Wash the parts, minutes: 10}
  bead: {title: Lay the bead, minutes: 2}
relations:
  before:
    - {first: wash, then: bead, why: dirt stays, page: 3}
proving:
  priming:
    fill: {title: Fill the oil, amount: 3.5 l, page: 60}
    spin: {title: Spin the pump, shows: {gauge: oil, low: 1.0 bar, page: 60}, looks: [oil at the last cam]}
    fuel: {title: Fuel on, looks: [{what: every joint dry, second_person: true}]}
  ready:
    built: {what: Every step is done, sees: every step done}
    primed: {what: It is primed, sees: every priming step done}
    cured: {what: Nothing cures, sees: no clock running}
    levels: {what: Levels read, who: first}
    tools: {what: Tools counted, who: both}
    stop: {what: Hand on the stop, who: second}
  gauges:
    oil: {title: Oil pressure, unit: bar, limits: [{low: 3.0 bar, from_speed: 2000 rpm, page: 61}]}
    water: {title: Water, unit: °C, limits: [{high: 95 °C, page: 61}]}
    speed: {title: Speed, unit: rpm}
    noise: {title: Noise, words: [even, knock]}
  stop_now:
    no_oil: {gauge: oil, below: 0.8 bar, after: 8 s, say: No oil., do: Find out why., page: 61}
    hot: {gauge: water, above: 105 °C, say: It boils., page: 61}
    knock: {gauge: noise, hears: [knock], say: Metal on metal.}
  run_in:
    first: {title: First heat, lasts: 20 min, load: none}
    second: {title: Half load, lasts: 2 h, load: half}
  recheck:
    leaks: {what: Every joint dry, sort: leaks, after: first}
    oil: {what: Oil changed, sort: oil, after: second}
  compare:
    leak: {of: leak, title: Leak-down, worse: lower}
"""
GAUGES = "LT: {sort: dial gauge, resolution: 0.1 bar, error: 0.1 bar, repeat: 0.05 bar, source: a tester (invented)}\n"
READINGS = """\
characteristic,place,station,axis,value,gauge
leak,1,-,-,6.2 bar,LT
leak,2,-,-,4.0 bar,LT
"""


def opened(clock: Clock, engine: str = ENGINE) -> MemoryStore:
    """A job on the twin, measured as found."""
    store = MemoryStore()
    files = {"engine": engine.encode(), "gauges": GAUGES.encode(), "readings": READINGS.encode()}
    assert open_job(store, clock, by="as found", **files) == []
    return store


def built(clock: Clock, engine: str = ENGINE) -> MemoryStore:
    """The same with every step of the build done."""
    store = opened(clock, engine)
    assert lay_out_order(store, clock, by="Ana") is None
    for step in ("wash", "bead"):
        assert confirm_step(store, clock, operation=step, by="Ana") is None
    return store
