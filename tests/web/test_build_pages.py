"""The guided build on the V8: steps in order, one refused and told why, a signature, and undoing."""

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from hands import do_step, seen, take_in_for
from workbench import on_screen

from cast import V8
from endfloat.inspection.measured import Gap, measured
from endfloat.inspection.verdicts import Verdict
from endfloat.job.build import advice, may_be_overruled
from endfloat.job.wire import from_body
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.build import Build, build_of, refused
from endfloat.workshop.build_record import build_record
from endfloat.workshop.keep_odd_reading import keep_odd_reading
from endfloat.workshop.open_job import open_job
from endfloat.workshop.record import load
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.view import evidence_as_found, view


class Clock:
    """A clock that a test sets."""

    def __init__(self) -> None:
        self.minute = 0

    def __call__(self) -> str:
        return (datetime(2026, 5, 3, 10, tzinfo=UTC) + timedelta(minutes=self.minute)).isoformat()

    def go_on(self, *, minutes: int) -> None:
        self.minute += minutes


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(clock: Clock) -> MemoryStore:
    store = MemoryStore()
    files = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}
    read = {name: (Path(V8) / file).read_bytes() for name, file in files.items()}
    assert open_job(store, clock, by="file", **read) == []
    return store


def may_sign(build: Build, step: str) -> bool:
    violations = advice(build.engine, list(build.done), step)
    return bool(violations) and may_be_overruled(build.engine, step, violations)


@pytest.fixture
def page(store: MemoryStore, clock: Clock) -> TestClient:
    page = TestClient(make_app(store, clock, solve_rows, make_paper))
    assert page.post("/build", data={"by": "Ana"}).status_code == 200
    return page


def test_the_order_is_laid_out_once_and_every_step_has_its_page(page: TestClient, store: MemoryStore) -> None:
    build = build_of(load(store)[0])
    assert len(build.order) > 100
    before = len(store.entries())
    page.post("/build", data={"by": "Ana"})
    assert len(store.entries()) == before
    assert f"Step 1: {build.step(build.order[0]).title}" in page.get("/build").text.replace("&#39;", "'")
    assert page.get("/build/no_such_step").status_code == 404


def test_steps_follow_one_another_and_a_second_press_does_nothing(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    order = build_of(load(store)[0]).order
    for step in order[:5]:
        take_in_for(store, clock, step)
        answer = page.post(f"/build/{step}/done", data={"by": "Ana"})
        assert answer.status_code == 200
    assert answer.url.path == f"/build/{order[5]}"
    before = len(store.entries())
    page.post(f"/build/{order[4]}/done", data={"by": "Ana"})
    assert len(store.entries()) == before


def test_a_step_that_closes_over_an_unchecked_thing_is_shut_and_says_what_frees_it(
    page: TestClient, store: MemoryStore
) -> None:
    build = build_of(load(store)[0])
    # The rear seal carrier closes over an end float that must be read first.
    step = "rear_carrier"
    assert build.step(step).closes
    text = page.get(f"/build/{step}").text
    assert "Shut:" in text
    assert "DONE</button>" not in on_screen(text)
    before = store.entries()
    answer = page.post(f"/build/{step}/done", data={"by": "Ana"})
    assert answer.status_code == 422
    assert "Do first" in answer.text
    assert store.entries() == before


def up_to(page: TestClient, store: MemoryStore, clock: Clock, step: str) -> None:
    order = build_of(load(store)[0]).order
    for each in order[: order.index(step)]:
        assert do_step(page, store, clock, each) == 303


PUSHES = ("first push", "second push", "third push")


def read_end_float(store: MemoryStore, clock: Clock, *, as_: str, key: str, pushes: tuple[str, ...] = PUSHES) -> None:
    for push in pushes:
        spot, name = ("end_float", "engine", push, "-"), f"{key} {push}"
        assert take_reading(store, clock, key=name, spot=spot, text=as_, gauge="D1", by="Ana") is None
        assert keep_odd_reading(store, clock, key=name, by="Ana") is None


def test_a_step_that_reads_again_is_freed_by_what_is_read_then_and_not_by_what_was_read_before(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    read_end_float(store, clock, as_="0.150 mm", key="too early")
    up_to(page, store, clock, "read_end_float")
    shown = page.get("/build/read_end_float").text
    assert "End float: read it again now. What was read before this step was due does not free it." in shown
    assert 'href="/measure/end_float/engine"' in shown
    found_first = next(each for each in view(load(store)[0]).findings if each.on == "end_float")
    assert found_first.estimate is not None
    assert found_first.estimate.value > 0.165e-3
    before = len(store.entries())
    assert page.post("/build/read_end_float/done", data={"by": "Ana"}).status_code == 422
    assert len(store.entries()) == before
    read_end_float(store, clock, as_="0.160 mm", key="on the step", pushes=PUSHES[:1])
    assert "Read again on the step “Read the end float again”." in page.get("/measure/end_float/engine").text
    assert page.post("/build/read_end_float/done", data={"by": "Ana"}).status_code == 422
    read_end_float(store, clock, as_="0.160 mm", key="on the step", pushes=PUSHES[1:])
    seen_now = view(load(store)[0])
    found = next(each for each in seen_now.findings if each.on == "end_float")
    assert found.estimate is not None
    assert (found.verdict, found.estimate.value) == (Verdict.GOOD, pytest.approx(0.160e-3))
    as_found = measured(seen_now.engine, evidence_as_found(seen_now), {"end_float"})["end_float"]["engine"]
    assert not isinstance(as_found, Gap)
    assert as_found.value == pytest.approx(found_first.estimate.value), "what was found stays what the engine came with"
    assert page.post("/build/read_end_float/done", data={"by": "Ana"}, follow_redirects=False).status_code == 303
    assert "read_end_float" in build_of(load(store)[0]).done


def test_a_person_may_stand_by_what_is_too_close_to_call(page: TestClient, store: MemoryStore, clock: Clock) -> None:
    up_to(page, store, clock, "read_end_float")
    read_end_float(store, clock, as_="0.199 mm", key="near")
    assert "End float: Looks good, too close to call" in page.get("/build/read_end_float").text
    assert page.post("/build/read_end_float/done", data={"by": "Ana"}).status_code == 422
    signed = page.post("/build/read_end_float/anyway", data={"by": "Ana", "reason": "read three times more by hand"})
    assert signed.status_code == 200
    assert "read_end_float" in build_of(load(store)[0]).done


def test_a_value_out_of_limits_is_never_signed_away(page: TestClient, store: MemoryStore, clock: Clock) -> None:
    up_to(page, store, clock, "read_end_float")
    read_end_float(store, clock, as_="0.900 mm", key="wide")
    assert "Out of limits" in page.get("/build/read_end_float").text
    answer = page.post("/build/read_end_float/anyway", data={"by": "Ana", "reason": "it will do"})
    assert answer.status_code == 422
    assert "read_end_float" not in build_of(load(store)[0]).done


def test_a_step_that_tightens_waits_for_every_bolt_on_the_record(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    up_to(page, store, clock, "mains_pass_1")
    assert "pass 1 has 0 of 10 bolts on the record" in page.get("/build/mains_pass_1").text
    assert 'href="/joint/main_caps"' in page.get("/build/mains_pass_1").text
    for path, form in (("done", {"by": "Ana"}), ("anyway", {"by": "Ana", "reason": "done by feel"})):
        assert page.post(f"/build/mains_pass_1/{path}", data=form).status_code == 422
    assert do_step(page, store, clock, "mains_pass_1") == 303
    assert do_step(page, store, clock, "mains_pass_2") == 303
    assert seen(store, "main_caps").progress.closed


def test_a_step_with_looks_is_done_when_each_is_ticked_and_two_people_looked_where_two_must(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    up_to(page, store, clock, "left_gasket")
    shown = page.get("/build/left_gasket").text
    assert "(two people look)" in shown
    looks = [look.what for look in build_of(load(store)[0]).step("left_gasket").to_see]
    before = len(store.entries())
    for form, words in (
        ({"by": "Ana"}, "not ticked: the tab points"),
        ({"by": "Ana", "looked": looks[:1], "second": "Bo"}, "not ticked: every hole"),
        ({"by": "Ana", "looked": looks}, "no second name"),
        ({"by": "Ana", "looked": looks, "second": " ana "}, "the same name twice"),
    ):
        answer = page.post("/build/left_gasket/done", data=form)
        assert answer.status_code == 422
        assert words in answer.text
    assert answer.text.count("checked") == 2, "what was ticked stays ticked"
    assert len(store.entries()) == before
    done = {"by": "Ana", "looked": looks, "second": "Bo"}
    assert page.post("/build/left_gasket/done", data=done, follow_redirects=False).status_code == 303
    line = build_record(view(load(store)[0]), store.entries())["steps"][-1]  # type: ignore[index]
    assert f"Looked at, with Bo: {looks[0]}; {looks[1]}. Ana" in line


def test_an_alteration_of_a_new_part_asks_for_its_place_and_a_spare_first(page: TestClient, store: MemoryStore) -> None:
    shown = page.get("/build/front_seal").text
    assert "It cannot be put back." in shown
    asked = [look.what for look in build_of(load(store)[0]).step("front_seal").to_see]
    assert asked[-1] == "a second front seal is in hand"
    assert asked[0].startswith("front seal: marked where its lip spring")


def test_whatever_is_done_in_the_laid_out_order_is_never_refused(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    for step in build_of(load(store)[0]).order:
        assert do_step(page, store, clock, step) == 303
    assert "Every step of the build is done" in page.get("/build").text


def test_a_refused_step_may_be_signed_only_where_nobody_can_be_hurt(page: TestClient, store: MemoryStore) -> None:
    build = build_of(load(store)[0])
    late = build.order[20:]
    harmless = next(step for step in late if may_sign(build, step))
    early = [step for step in late if advice(build.engine, list(build.done), step)]
    risky = next(step for step in early if not may_sign(build, step))
    assert "Do it anyway, and sign" in page.get(f"/build/{harmless}").text
    assert "cannot be signed away" in page.get(f"/build/{risky}").text
    unsigned = page.post(f"/build/{harmless}/anyway", data={"by": "Ana", "reason": " "})
    assert unsigned.status_code == 422
    assert page.post(f"/build/{harmless}/anyway", data={"by": "Ana", "reason": "our engine differs"}).status_code == 200
    last = from_body(store.entries()[-1].body)
    assert (type(last).__name__, getattr(last, "reason", "")) == ("StepDoneAgainstAdvice", "our engine differs")
    refused_answer = page.post(f"/build/{risky}/anyway", data={"by": "Ana", "reason": "in a hurry"})
    assert refused_answer.status_code == 422
    assert "correct the description" in refused_answer.text


def test_a_single_use_part_is_never_signed_away(store: MemoryStore) -> None:
    engine = build_of(load(store)[0]).engine
    for relation in engine.relations.single_use:
        violations, _, _ = refused(build_of(load(store)[0]), relation.used_by)
        single = [each for each in violations if each.relation == "single_use"]
        assert not may_be_overruled(engine, relation.used_by, single or violations) or not single


def test_undoing_a_step_re_opens_what_waited_for_it_and_nothing_else(
    page: TestClient, store: MemoryStore, clock: Clock
) -> None:
    order = build_of(load(store)[0]).order
    for step in order[:40]:
        assert do_step(page, store, clock, step) == 303
    done = build_of(load(store)[0]).done
    assert done == order[:40]
    step = order[10]
    told = page.get(f"/build/{step}").text
    assert "Undoing this re-opens" in told
    page.post(f"/build/{step}/undo", data={"by": "Ana", "reason": "dropped"})
    left = build_of(load(store)[0]).done
    assert step not in left
    assert all(not refused(build_of(load(store)[0]), each)[0] for each in [build_of(load(store)[0]).next or step])
    assert set(left) < set(done)


def test_after_a_while_away_the_last_three_are_shown(page: TestClient, store: MemoryStore, clock: Clock) -> None:
    for step in build_of(load(store)[0]).order[:4]:
        assert do_step(page, store, clock, step) == 303
    assert "You were away" not in page.get("/build").text
    clock.minute += 24
    assert "You were away 24 minutes. Look at the last 3." in page.get("/build").text


def test_the_build_says_at_its_head_that_the_engine_is_not_yet_shown_to_fit(page: TestClient) -> None:
    assert "<b>Not yet shown to fit:</b> Out 10 · Unsettled 1." in page.get("/build").text


def test_a_step_shows_where_it_is_what_goes_with_it_and_what_to_fetch_next(page: TestClient) -> None:
    told = page.get("/build/left_intake_cam").text
    assert "As one move with “" in told
    assert "one chain passes over both noses" in told
    assert "LEFT is not RIGHT. They differ in cap stamps and arrows" in told
    assert 'class="where-drawing"' in told
    assert "Fetch for the next 3 steps" in told


def test_the_wrong_cap_is_refused_and_what_was_typed_stays(page: TestClient, store: MemoryStore, clock: Clock) -> None:
    order = build_of(load(store)[0]).order
    for step in order[: order.index("main_cap_3")]:
        assert do_step(page, store, clock, step) == 303
    looks = [look.what for look in build_of(load(store)[0]).step("main_cap_3").to_see]
    before = len(store.entries())
    wrong = page.post("/build/main_cap_3/done", data={"by": "Ana", "mark": "4", "looked": looks})
    assert wrong.status_code == 422
    assert "`4`" in wrong.text
    assert 'name="mark" value="4"' in wrong.text
    assert len(store.entries()) == before
    seen_well = {"by": "Ana", "mark": "3", "looked": looks}
    right = page.post("/build/main_cap_3/done", data=seen_well, follow_redirects=False)
    assert right.status_code == 303
    lines = build_record(view(load(store)[0]), store.entries())["steps"]
    assert isinstance(lines, list)
    assert any("Mark read: 3" in line for line in lines)
