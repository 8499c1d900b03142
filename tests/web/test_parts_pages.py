"""Parts taken in and sent back on their page, the step that waits for them, and what is tried dry."""

import io
import re

import pypdf
import pytest
from fastapi.testclient import TestClient
from hands import bring_all_in
from workbench import HandClock, pages_over

from cast import EXAMPLES, FERRY, V8, example
from endfloat.engine.parts import BoughtPart
from endfloat.job.events import WorkNotBack
from endfloat.job.parts import ARRIVED, all_in, expected_parts, parts_in, parts_of
from endfloat.job.strip_events import RemovalUndone
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.workshop.dry_build import trials
from endfloat.workshop.holds import NOT_BACK, holds
from endfloat.workshop.open_job import open_job
from endfloat.workshop.plan_work import Planned, agree, work_out
from endfloat.workshop.record import load
from endfloat.workshop.strip import record
from endfloat.workshop.take_in_parts import parts_expected, take_in
from endfloat.workshop.view import view
from strip_hands import strip_by_hand

FILES = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}


@pytest.fixture
def store() -> MemoryStore:
    store = MemoryStore()
    read = {name: (V8 / file).read_bytes() for name, file in FILES.items()}
    assert open_job(store, HandClock(), by="file", **read) == []
    return store


@pytest.fixture
def page(store: MemoryStore) -> TestClient:
    return TestClient(pages_over(store, HandClock()))


def agree_to_the_cheapest(store: MemoryStore) -> dict[str, str]:
    seen = view(load(store)[0])
    planned = work_out(seen, solve_rows)
    assert isinstance(planned, Planned)
    choice = planned.plan.choice
    assert agree(store, HandClock(), solve_rows, choice=choice, evidence=seen.evidence_hash, by="Ana") is None
    return choice


def test_a_wrong_count_is_told_beside_its_part_keeps_what_was_typed_and_writes_nothing(
    page: TestClient, store: MemoryStore
) -> None:
    before = len(store.entries())
    answer = page.post("/parts/main_bolts/in", data={"key": "k", "count": "eleven", "by": "Ana"})
    assert answer.status_code == 422
    assert "`eleven`" in answer.text
    assert 'value="eleven"' in answer.text
    assert len(store.entries()) == before


def test_the_step_that_lays_them_out_waits_until_they_are_in_and_cannot_be_signed(
    page: TestClient, store: MemoryStore
) -> None:
    page.post("/build", data={"by": "Ana"})
    shut = page.post("/build/bring_main_bolts/done", data={"by": "Ana"})
    assert shut.status_code == 422
    assert "ten main bolts: 0 of 10 are in." in shut.text
    text = page.get("/build/bring_main_bolts").text
    assert 'href="/parts"' in text, "the way to take them in"
    assert "If your service book gives another order" not in text, "no other order brings parts"
    signed = page.post("/build/bring_main_bolts/anyway", data={"by": "Ana", "reason": "they will come"})
    assert signed.status_code == 422
    looks = view(load(store)[0]).engine.parts["main_bolts"].looks
    form = {"key": "k", "count": "10", "by": "Bo", "looked": looks}
    assert page.post("/parts/main_bolts/in", data=form, follow_redirects=False).status_code == 303
    assert page.post("/parts/main_bolts/in", data=form, follow_redirects=False).status_code == 303, "sent twice"
    assert parts_in(load(store)[0].arrivals) == {"main_bolts": 10}
    assert page.post("/build/bring_main_bolts/done", data={"by": "Ana"}, follow_redirects=False).status_code == 303


def test_a_plan_that_leaves_places_out_of_limits_offers_no_agreement(page: TestClient, store: MemoryStore) -> None:
    text = page.get("/agree").text
    assert "would stay out of limits" in text
    assert ">AGREE<" not in text
    assert 'href="/decide"' in text
    choice = agree_to_the_cheapest(store)
    asked = page.get("/agree", params=choice).text
    assert ">AGREE<" in asked
    decided = page.get("/decide").text
    assert re.search(r'class="big">[^<]+', asked).group() in decided, "one price on both pages"
    for text in (asked, decided):
        assert "<b>and 301 crowns</b> for parts that removal makes void. Together <b>2,976 crowns</b>." in text
        assert "eight flywheel bolts" in text
    assert "and 301 crowns for parts that removal makes void, together 2,976 crowns" in page.get("/sheets").text
    assert "Void parts" in page.get("/what-if").text


def test_the_customer_reads_one_sum_and_what_it_holds(page: TestClient, store: MemoryStore) -> None:
    agree_to_the_cheapest(store)
    printed_page = pypdf.PdfReader(io.BytesIO(page.get("/sheets/customer-page.pdf").content))
    words = " ".join(" ".join(each.extract_text() for each in printed_page.pages).split())
    assert words.count("2,976 crowns") == 2, "at the top and under the sum"
    assert "301 crowns" in words
    assert "sixteen rod bolts" in words
    record = " ".join(
        " ".join(each.extract_text() for each in pypdf.PdfReader(
            io.BytesIO(page.get("/sheets/build-record.pdf").content)).pages).split()
    )  # fmt: skip
    assert "2,675 crowns and 301 crowns for parts that removal makes void" in record


def test_the_purchases_of_a_plan_hold_what_the_build_waits_for_once(page: TestClient, store: MemoryStore) -> None:
    agree_to_the_cheapest(store)
    assert "ten main bolts: 0 of 10 are in" not in printed(page), "a line with its price holds them"
    assert "ten main bolts" in printed(page)


def test_the_purchases_of_the_strip_name_what_the_build_waits_for_and_no_line_buys(
    page: TestClient, store: MemoryStore
) -> None:
    strip_by_hand(store, HandClock(), "left_cover")
    assert "ten main bolts: 0 of 10 are in" in printed(page)
    looks = view(load(store)[0]).engine.parts["main_bolts"].looks
    page.post("/parts/main_bolts/in", data={"key": "k", "count": "10", "by": "Bo", "looked": looks})
    assert "ten main bolts" not in printed(page)


def test_a_step_that_closes_something_waits_for_the_agreed_work_to_be_back(store: MemoryStore) -> None:
    seen = view(load(store)[0])
    closing = next(name for name, step in seen.engine.operations.items() if step.closes)
    assert not_back(store, closing) == []
    choice = agree_to_the_cheapest(store)
    assert "grind all pins to 51.733" in not_back(store, closing)[0]
    assert not_back(store, "wash_block") == []
    assert choice["pins"] != "as_is"
    assert any("not all in yet: eight pistons 0.25" in each for each in arrivals(store, closing))
    bring_all_in(store, HandClock())
    assert not_back(store, closing) == arrivals(store, closing) == []


def arrivals(store: MemoryStore, step: str) -> list[str]:
    """What holds a step for the sake of parts that have not come."""
    return [each.sentence for each in holds(view(load(store)[0]), step) if each.relation == ARRIVED]


def take_all(store: MemoryStore, key: str, part: str, count: str) -> None:
    looked = parts_expected(load(store)[0])[part].looks
    assert take_in(store, HandClock(), key=key, part=part, count=count, by="Bo", looked=looked) is None


def returned(store: MemoryStore) -> set[str]:
    return set(load(store)[0].returned)


def test_work_that_is_only_buying_is_back_when_its_last_part_is_counted_in_and_out_when_one_goes_back(
    page: TestClient, store: MemoryStore
) -> None:
    agree_to_the_cheapest(store)
    take_all(store, "a", "pistons", "6")
    assert returned(store) == set()
    take_all(store, "b", "pistons", "2")
    take_all(store, "b", "pistons", "2")
    assert returned(store) == {"pistons"}, "the same sent twice answers once"
    assert "Not all in yet." in page.get("/sheets").text
    back = {"key": "c", "count": "1", "reason": "a ring is broken", "by": "Bo"}
    assert page.post("/parts/pistons/back", data=back, follow_redirects=False).status_code == 303
    assert returned(store) == set()
    told = [each for each in load(store)[0].bench if isinstance(each, WorkNotBack)]
    assert [(each.decision, each.reason) for each in told] == [("pistons", "a ring is broken")]
    take_all(store, "d", "pistons", "1")
    assert returned(store) == {"pistons"}
    take_all(store, "e", "head_bolts", "19")
    assert "head_bolts" not in returned(store), "the long one is still to come"
    take_all(store, "f", "long_head_bolt", "1")
    assert "head_bolts" in returned(store)
    assert "Together <b>2,976 crowns</b>" in page.get("/decide").text, "what came in changes no sum"
    other = page.get("/what-if", params={"bore_set": "rebore_050"})
    assert other.status_code == 200
    assert "rebore all eight to 86.50 needs another choice of the pistons with their rings" in other.text


def test_one_thing_is_asked_once_bought_parts_on_their_page_and_machine_work_on_the_sheets(
    page: TestClient, store: MemoryStore
) -> None:
    choice = agree_to_the_cheapest(store)
    seen = view(load(store)[0])
    work = {name: seen.engine.decisions[name].options[key] for name, key in choice.items() if key != "as_is"}
    sheets, parts = page.get("/sheets").text, page.get("/parts").text
    asked = set(re.findall(r'name="decision" value="([^"]+)"', sheets))
    assert asked == {name for name, option in work.items() if option.sort == "machine"}
    for option in (each for each in work.values() if each.sort != "machine"):
        keys = {name for item in option.catalogue for name in parts_of(seen.engine, item)}
        assert all(f'action="/parts/{key}/in"' in parts for key in keys)
    assert 'href="/parts"' in sheets
    refused = page.post("/sheets/back", data={"decision": "main_shells", "key": "k", "by": "Ana"})
    assert refused.status_code == 422
    assert "Count them in on the page of the parts." in refused.text


def test_what_is_in_the_house_before_a_plan_buys_it_is_back_with_the_agreement(store: MemoryStore) -> None:
    agree_to_the_cheapest(store)
    take_all(store, "a", "head_bolts", "19")
    take_all(store, "b", "long_head_bolt", "1")
    assert returned(store) == {"head_bolts"}
    four = MemoryStore()
    folder = EXAMPLES / "tolvenny-1185"
    files = {name: (folder / file).read_bytes() for name, file in FILES.items()}
    assert open_job(four, HandClock(), by="file", **files) == []
    take_all(four, "a", "rod_bolts", "8")
    assert returned(four) == set(), "nothing is agreed that they could answer"
    agree_to_the_cheapest(four)
    assert returned(four) == {"rod_bolts"}


def test_three_pairs_of_one_line_answer_for_three_decisions_once_all_are_in() -> None:
    four, _, prices = example(EXAMPLES / "tolvenny-1185")
    choice = {f"main_{n}_shells": "red" for n in (1, 2, 3)}
    expected = expected_parts(four, choice, prices)
    assert expected["main-shells-red"].count == 3
    option = four.decisions["main_1_shells"].options["red"]
    assert not all_in(four, expected, {"main-shells-red": 2}, option.catalogue)
    assert all_in(four, expected, {"main-shells-red": 3}, option.catalogue)


def test_what_is_fitted_by_hand_is_work_and_no_part_to_count_in() -> None:
    three, _, prices = example(FERRY)
    choice = {"rings": "file_3", "bushes": "bush_2", "chain": "renew"}
    assert {"filing", "bush"}.isdisjoint(expected_parts(three, choice, prices))
    assert "pump-chain" in expected_parts(three, choice, prices)
    options = [three.decisions[name].options[key] for name, key in choice.items()]
    assert [(option.buys, option.only_buys) for option in options] == [(True, False), (True, False), (True, True)]


def test_a_part_that_the_description_names_comes_in_also_for_machine_work() -> None:
    four, _, prices = example(EXAMPLES / "tolvenny-1185")
    piston = BoughtPart(title="an oversize piston", count=1, items=["piston-025"])
    named = four.model_copy(update={"parts": {**four.parts, "piston": piston}})
    assert "piston" in expected_parts(named, {"barrel_1": "oversize_025"}, prices)
    assert "piston" not in expected_parts(named, {"barrel_1": "as_is"}, prices)


def test_what_is_in_the_house_is_left_off_the_purchases(page: TestClient, store: MemoryStore) -> None:
    agree_to_the_cheapest(store)
    before = printed(page)
    assert "eight flywheel bolts" in before
    assert "eight pistons" in before
    take_all(store, "a", "pistons", "8")
    take_all(store, "b", "flywheel-bolts", "7")
    assert "eight flywheel bolts" in printed(page), "one of them is still to come"
    take_all(store, "c", "flywheel-bolts", "1")
    after = printed(page)
    assert "eight flywheel bolts" not in after
    assert "eight pistons" not in after


def not_back(store: MemoryStore, step: str) -> list[str]:
    """What holds a step for the sake of work that is out."""
    return [each.sentence for each in holds(view(load(store)[0]), step) if each.relation == NOT_BACK]


def printed(page: TestClient) -> str:
    """The words of the purchases as printed."""
    pdf = pypdf.PdfReader(io.BytesIO(page.get("/sheets/purchases.pdf").content))
    return " ".join(" ".join(each.extract_text() for each in pdf.pages).split())


def test_what_the_plan_buys_is_listed_once_it_is_agreed_and_pistons_are_measured_as_they_come(
    page: TestClient, store: MemoryStore
) -> None:
    assert "eight pistons" not in page.get("/parts").text.lower()
    agree_to_the_cheapest(store)
    assert "eight pistons" in page.get("/parts").text.lower()
    looks = view(load(store)[0]).engine.parts["pistons"].looks
    form = {"key": "p", "count": "8", "by": "Bo", "looked": looks}
    assert page.post("/parts/pistons/in", data=form, follow_redirects=False).status_code == 303
    assert "Read on them now" in page.get("/parts").text


def test_what_the_strip_made_void_is_taken_in_on_the_page_and_sent_back_though_it_is_on_again(
    page: TestClient, store: MemoryStore
) -> None:
    assert "eight flywheel bolts" not in page.get("/parts").text.lower()
    strip_by_hand(store, HandClock(), "left_cover")
    text = page.get("/parts").text
    assert "Pair of cam cover gaskets: 0 of 2" in text
    form = {"key": "g", "count": "2", "by": "Bo"}
    unseen = page.post("/parts/cover-gaskets/in", data=form)
    assert unseen.status_code == 422
    assert "held against the old: 1 × left cam cover gasket" in unseen.text
    looked = {**form, "looked": "held against the old: 1 × left cam cover gasket"}
    assert page.post("/parts/cover-gaskets/in", data=looked, follow_redirects=False).status_code == 303
    undone = RemovalUndone("un", "left_cover", "it is on", "Ana", "")
    assert record(store, HandClock(), undone) is None
    assert "Pair of cam cover gaskets: 2 of 2" in page.get("/parts").text
    back = {"key": "h", "count": "2", "reason": "not needed", "by": "Bo"}
    assert page.post("/parts/cover-gaskets/back", data=back, follow_redirects=False).status_code == 303
    told = page.get("/parts").text
    assert "0 of 2" not in told
    assert "pair of cam cover gaskets, 2 sent back: not needed" in told


def test_every_fit_that_the_work_changed_is_tried_dry_with_its_cause(page: TestClient, store: MemoryStore) -> None:
    assert "No plan is agreed yet" in page.get("/dry-build").text
    choice = agree_to_the_cheapest(store)
    found = trials(view(load(store)[0]))
    assert {each.finding.on for each in found} >= {"piston_clearance", "main_clearance"}
    assert not any(each.good for each in found), "nothing is tried while the work is out"
    changed = {name for name, key in choice.items() if key != view(load(store)[0]).engine.decisions[name].as_found}
    assert changed
    told = page.get("/dry-build").text
    assert "Not back yet:" in told
    assert "Trial with the old bolts" in told, "the step that reads the main clearance"
