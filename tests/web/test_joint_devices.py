"""One joint, two devices: the first that pulls has it, the other watches or takes over when both say yes."""

from fastapi.testclient import TestClient
from test_joint_pages import BOLTS_IN, Bench
from workbench import pages_over

from endfloat.job.events import BoltPulled
from endfloat.job.joint_events import JointTakenUp
from endfloat.web.device import COOKIE
from endfloat.workshop.joint_record import joints_on_paper
from endfloat.workshop.record import load


def two_devices() -> tuple[Bench, TestClient]:
    """Ana at the left head with three bolts pulled on her phone, and a tablet that has looked at it."""
    bench = Bench()
    bench.look()
    bench.bolts_in()
    for _ in range(3):
        bench.pull_next()
    tablet = TestClient(pages_over(bench.store, bench.clock))
    assert tablet.get("/joint/left_head").status_code == 200
    assert tablet.cookies[COOKIE] != bench.client.cookies[COOKIE]
    return bench, tablet


def press(bench: Bench, device: TestClient, by: str) -> tuple[int, str]:
    data = {**bench.next_form(), "gauge": "W1", "by": by}
    answer = device.post("/joint/left_head/pull", data=data, follow_redirects=False)
    return answer.status_code, answer.text


def test_the_first_device_that_pulls_has_the_joint_and_says_so_once_on_the_record() -> None:
    bench, _ = two_devices()
    taken = bench.events(JointTakenUp)
    assert [(each.by, each.device) for each in taken] == [("Ana", bench.client.cookies[COOKIE])]  # type: ignore[attr-defined]


def test_the_other_device_shows_who_has_it_and_its_pull_is_not_taken() -> None:
    bench, tablet = two_devices()
    assert "Ana has this joint on another device." in tablet.get("/joint/left_head").text
    assert "has this joint on another device" not in bench.look()
    before = len(bench.store.entries())
    status, text = press(bench, tablet, "Bo")
    assert status == 422
    assert "Watch it there, or take it over; both say yes." in text
    assert len(bench.store.entries()) == before


def test_it_is_taken_over_only_with_the_name_of_the_one_who_has_it_and_then_the_first_is_refused() -> None:
    bench, tablet = two_devices()
    for gave, status in (("", 422), ("Bo", 422), (" ana ", 303)):
        data = {"key": "over", "by": "Bo", "gave": gave}
        assert tablet.post("/joint/left_head/take-over", data=data, follow_redirects=False).status_code == status
    assert press(bench, bench.client, "Ana")[0] == 422
    assert press(bench, tablet, "Bo")[0] == 303
    pulled = bench.events(BoltPulled)
    assert [each.by for each in pulled] == ["Ana", "Ana", "Ana", "Bo"]  # type: ignore[attr-defined]
    assert len({each.bolt for each in pulled}) == 4, "nothing is counted twice"  # type: ignore[attr-defined]
    [joint] = joints_on_paper(load(bench.store)[0])
    told = " ".join(joint["lines"])  # type: ignore[arg-type]
    assert "Recorded from here on one device. Ana, " in told
    assert "Recorded from here on one device, given up by ana. Bo, " in told


def test_a_pull_that_waited_on_the_first_device_until_the_other_pulled_that_bolt_is_refused_with_who_did() -> None:
    bench, tablet = two_devices()
    waited = {**bench.next_form(), "gauge": "W1", "by": "Ana"}
    data = {"key": "over", "by": "Bo", "gave": "Ana"}
    assert tablet.post("/joint/left_head/take-over", data=data, follow_redirects=False).status_code == 303
    assert press(bench, tablet, "Bo")[0] == 303
    before = bench.store.entries()
    late = bench.client.post("/joint/left_head/pull", data=waited)
    assert late.status_code == 422
    assert f"Bolt {waited['bolt']}: found it pulled by Bo on another device, " in late.text
    assert "If it was pulled twice on the engine, say so under `Felt wrong`." in late.text
    assert bench.store.entries() == before


def test_a_closed_joint_belongs_to_nobody() -> None:
    bench, tablet = two_devices()
    while 'name="pass_number"' in bench.look():
        bench.pull_next()
    form = bench.form()
    assert bench.send("close", key=form["key"], by="Ana")[0] == 200
    again = {**BOLTS_IN, "bolts": "H9", "key": "again"}
    assert tablet.post("/joint/left_head/set", data=again, follow_redirects=False).status_code == 303
    assert press(bench, tablet, "Bo")[0] == 303
