"""What becomes of a clamp load: two springs solved for force and length, a joint that opens."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from endfloat.errors import OutOfRange
from endfloat.formulas import clamp, stiffness

BOLT, PARTS = 130e6, 900e6
SPRINGS = {"bolt_stiffness": BOLT, "parts_stiffness": PARTS}


def clamp_of(bolt_free: float, parts_free: float) -> float:
    """Force of a bolt shorter than its parts: both end at one length, pull and push being equal."""
    length, force = np.linalg.solve(
        np.array([[BOLT, -1.0], [PARTS, 1.0]]), np.array([BOLT * bolt_free, PARTS * parts_free])
    )
    assert bolt_free < length < parts_free
    return float(force)


def test_settling_and_warming_take_what_two_springs_take() -> None:
    before = clamp_of(0.0950, 0.0953)
    settled = clamp_of(0.0950, 0.0953 - 8e-6)
    assert before - settled == pytest.approx(clamp.embedding_loss(embedding=8e-6, **SPRINGS), rel=1e-6)
    warm = clamp_of(0.0950 * (1 + 11.5e-6 * 60), 0.0953 + 0.0950 * 23e-6 * 80)
    change = clamp.thermal_change(
        bolt_expansion=11.5e-6,
        parts_expansion=23e-6,
        grip=0.0950,
        bolt_warming=60.0,
        parts_warming=80.0,
        **SPRINGS,
    )
    assert warm - before == pytest.approx(change, rel=1e-6)


def test_a_short_stiff_joint_loses_more_to_the_same_settling() -> None:
    loss = clamp.embedding_loss(embedding=8e-6, bolt_stiffness=np.array([130e6, 400e6]), parts_stiffness=900e6)
    assert loss[1] > 2 * loss[0]


def test_an_aluminium_head_gains_clamp_when_hot_and_loses_it_when_cold() -> None:
    warmth = np.array([-40.0, 0.0, 80.0])
    change = clamp.thermal_change(
        bolt_expansion=11.5e-6, parts_expansion=23e-6, grip=0.1, bolt_warming=warmth, parts_warming=warmth, **SPRINGS
    )
    assert change[0] < 0 == change[1] < change[2]
    same = clamp.thermal_change(
        bolt_expansion=12e-6, parts_expansion=12e-6, grip=0.1, bolt_warming=80.0, parts_warming=80.0, **SPRINGS
    )
    assert same == 0


def test_every_rough_face_settles() -> None:
    fine, medium, coarse = (
        clamp.embedding(roughness=each, faces=2.0, joints=1.0) for each in ("fine", "medium", "coarse")
    )
    assert fine < medium < coarse
    washer = clamp.embedding(roughness="fine", faces=3.0, joints=1.0)
    assert washer - fine == pytest.approx(2.5e-6)
    with pytest.raises(OutOfRange, match="medium"):
        clamp.embedding(roughness="smooth", faces=1.0, joints=1.0)


@given(st.floats(0, 25e3))
def test_a_closed_joint_shares_the_load_as_two_springs_do(load: float) -> None:
    share = stiffness.load_share(**SPRINGS)
    joint = clamp.with_external_load(preload=30e3, load=load, share=share, introduction=1.0)
    stretch = load / (BOLT + PARTS)
    assert joint.bolt_load == pytest.approx(30e3 + BOLT * stretch)
    assert joint.clamp_load == pytest.approx(30e3 - PARTS * stretch)
    assert joint.bolt_load - joint.clamp_load == pytest.approx(load, abs=1e-6)


def test_an_open_joint_hangs_on_the_bolt_and_opens_without_a_step() -> None:
    state = {"preload": 30e3, "share": 0.2, "introduction": 0.5}
    opens = clamp.with_external_load(load=0.0, **state).separation
    loads = np.array([0.0, opens * (1 - 1e-9), opens * (1 + 1e-9), 2 * opens])
    joint = clamp.with_external_load(load=loads, **state)
    assert joint.clamp_load == pytest.approx([30e3, 0.0, 0.0, 0.0], abs=1e-3)
    assert joint.bolt_load == pytest.approx([30e3, opens, opens, 2 * opens])
    pushed = clamp.with_external_load(load=-5e3, **state)
    assert pushed.clamp_load > 30e3 > pushed.bolt_load


def test_gas_lifts_with_the_square_of_the_bore_and_bolts_share() -> None:
    loads = clamp.pressure_load(pressure=8e6, diameter=np.array([0.08, 0.16]), bolts=4.0)
    assert loads[1] == pytest.approx(4 * loads[0])
    assert clamp.pressure_load(pressure=8e6, diameter=0.08, bolts=8.0) == pytest.approx(loads[0] / 2)


def test_losses_add_up_and_cannot_take_more_than_there_is() -> None:
    assert clamp.left_after(clamp_load=30e3, losses=np.array([1e3, -500.0])) == pytest.approx(29.5e3)
    with pytest.raises(OutOfRange) as caught:
        clamp.left_after(clamp_load=np.array([30e3, 1e3]), losses=np.array([1e3, 500.0]))
    assert list(caught.value.bad) == [False, True]
