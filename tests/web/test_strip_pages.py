"""The strip through its pages, as a browser without a script sends its forms."""

import html
import io
import re

import pypdf
import pytest
from fastapi.testclient import TestClient
from workbench import HandClock, on_screen

from cast import V8, example
from endfloat.job.strip_events import PartRemoved, PhotoBound
from endfloat.job.wire import from_body
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryPhotos, MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.open_job import open_job
from pictures import small_picture
from strip_hands import strip_by_hand

UP_TO_THE_HEAD = [
    *("left_cover", "right_cover", "manifold", "damper", "sump", "timing_cover", "left_tensioner"),
    *("left_sprockets", "left_cams", "left_buckets", "left_m8"),
]
PNG = small_picture("PNG")


@pytest.fixture
def clock() -> HandClock:
    return HandClock()


@pytest.fixture
def store(clock: HandClock) -> MemoryStore:
    store = MemoryStore()
    texts = {name: (V8 / f"{name}.yaml").read_bytes() for name in ("engine", "gauges", "prices")}
    readings = (V8 / "readings.csv").read_bytes()
    assert open_job(store, clock, by="as found", readings=readings, **texts) == []
    return store


@pytest.fixture
def page(store: MemoryStore, clock: HandClock) -> TestClient:
    return TestClient(make_app(store, clock, solve_rows, make_paper, MemoryPhotos()))


def fields_of(text: str, action: str) -> dict[str, list[str]]:
    """The hidden fields of the form with that action."""
    form = re.search(rf'<form method="post" action="{re.escape(action)}".*?</form>', text, re.S)
    assert form, f"no form {action}"
    found: dict[str, list[str]] = {}
    for tag in re.findall(r'<input type="hidden"[^>]*>', form.group()):
        name, value = (re.search(rf'{word}="([^"]*)"', tag) for word in ("name", "value"))
        assert name
        assert value
        found.setdefault(name.group(1), []).append(html.unescape(value.group(1)))
    return found


def send(page: TestClient, removal: str, deed: str, **typed: object):
    """Open the page of a removal and send its form, with what a person fills in."""
    action = f"/strip/{removal}/{deed}"
    fields = fields_of(page.get(f"/strip/{removal}").text, action)
    return page.post(action, data={**fields, "by": "Ana", **typed})


def take_off(page: TestClient, store: MemoryStore, removal: str) -> None:
    """Answer whatever a removal asks, then take it off with every fastener there."""
    for _ in range(20):
        text = page.get(f"/strip/{removal}").text
        deeds = {
            "note": {"reason": "not today"},
            "label": {},
            "orientation": {"choice": first_choice(text)},
            "no-photo": {"reason": "no camera"},
            "off": {"out": re.findall(r'id="of-\d+">of (\d+)<', text)},
        }
        deed = next((each for each in deeds if f'action="/strip/{removal}/{each}"' in text), None)
        assert deed, f"{removal} asks nothing more and is not off"
        assert send(page, removal, deed, **deeds[deed]).status_code == 200
        if deed == "off":
            return
    raise AssertionError(removal)


def first_choice(text: str) -> str:
    found = re.search(r'name="choice" value="([^"]*)"', text)
    return html.unescape(found.group(1)) if found else ""


def events(store: MemoryStore, kind: type) -> list:
    return [event for event in (from_body(each.body) for each in store.entries()) if isinstance(event, kind)]


def test_a_removal_asks_for_its_label_first_then_its_count_and_what_is_void_is_listed(page: TestClient) -> None:
    assert "Nothing yet." in page.get("/strip").text
    saved = send(page, "left_cover", "label")
    assert "Saved: the label is on." in saved.text
    off = send(page, "left_cover", "off", out=["11"])
    assert "Saved: it is off and counted." in off.text
    listed = page.get("/strip").text
    assert "Off 1 of 33" in listed
    assert "left cam cover gasket" in listed


def test_a_count_that_differs_is_refused_keeps_what_was_typed_and_goes_through_with_an_account(
    page: TestClient, store: MemoryStore
) -> None:
    send(page, "left_cover", "label")
    short = send(page, "left_cover", "off", out=["10"], account=[""])
    assert short.status_code == 422
    assert "10 of 11 M6x30, rim" in short.text
    assert re.search(r'name="out" value="10"', short.text)
    for wrong, words in (("", "no count of M6x30, rim"), ("ten", "`ten` for M6x30, rim"), ("-1", "`-1`")):
        assert words in html.unescape(send(page, "left_cover", "off", out=[wrong], account=["?"]).text)
    assert send(page, "left_cover", "off", out=["10"], account=["sheared, stud left in"]).status_code == 200
    [event] = events(store, PartRemoved)
    assert (event.out, event.account) == ({"M6x30, rim": 10}, {"M6x30, rim": "sheared, stud left in"})
    assert "sheared, stud left in" in page.get("/strip/left_cover").text


def test_a_form_sent_twice_counts_once_and_one_without_a_name_is_refused(page: TestClient, store: MemoryStore) -> None:
    fields = fields_of(page.get("/strip/left_cover").text, "/strip/left_cover/label")
    unnamed = page.post("/strip/left_cover/label", data={**fields, "by": " "})
    assert unnamed.status_code == 422
    for _ in range(2):
        assert page.post("/strip/left_cover/label", data={**fields, "by": "Ana"}).status_code == 200
    assert len([each for each in store.entries() if "PlaceLabelled" in each.body]) == 1


def test_a_removal_out_of_its_turn_says_what_is_on_and_leads_to_what_frees_it(page: TestClient) -> None:
    text = on_screen(page.get("/strip/left_head").text)
    assert "Not yet. First: Lift the intake manifold off;" in text
    assert 'href="/strip/left_cover"' in text
    assert "/strip/left_head/off" not in text


def test_a_photograph_is_kept_bound_by_its_fingerprint_and_shown_and_other_files_are_refused(
    page: TestClient, store: MemoryStore
) -> None:
    send(page, "manifold", "note", reason="no feeler")
    send(page, "manifold", "label")
    fields = fields_of(page.get("/strip/manifold").text, "/strip/manifold/photo")
    form = {**{name: values[0] for name, values in fields.items()}, "by": "Ana"}

    def upload(content: bytes, **more: str):
        return page.post("/strip/manifold/photo", data={**form, **more}, files={"photo": ("p.png", content)})

    assert "another sort of file" in upload(b"GIF89a").text
    assert "no picture chosen" in upload(b"").text
    assert upload(PNG, job="another").status_code == 409
    assert upload(PNG + bytes(14_000_000)).status_code == 413
    assert upload(PNG + bytes(12_500_000)).status_code == 422
    assert events(store, PhotoBound) == []
    kept = upload(PNG)
    assert "the photograph is kept" in kept.text
    [event] = events(store, PhotoBound)
    shown = page.get(f"/strip/photo/{event.sha256}")
    assert (shown.content, shown.headers["content-type"]) == (PNG, "image/png")
    assert page.get("/strip/photo/none").status_code == 404


def test_without_a_place_for_photographs_only_the_reason_is_asked(store: MemoryStore, clock: HandClock) -> None:
    page = TestClient(make_app(store, clock, solve_rows, make_paper))
    send(page, "manifold", "note", reason="no feeler")
    send(page, "manifold", "label")
    assert 'type="file"' not in page.get("/strip/manifold").text
    assert "Saved: no photograph" in send(page, "manifold", "no-photo", reason="no camera").text


def test_a_gate_is_answered_after_the_part_is_off_and_a_crack_says_where(page: TestClient, store: MemoryStore) -> None:
    for name in [*UP_TO_THE_HEAD, "left_head"]:
        strip_by_hand(store, HandClock(), name)
    unseen = send(page, "left_head", "clean")
    assert unseen.status_code == 422
    looks = [html.unescape(each) for each in re.findall(r'name="looked" value="([^"]*)"', unseen.text)]
    assert len(looks) == 2
    assert send(page, "left_head", "clean", looked=looks).status_code == 200
    assert send(page, "left_head", "crack-test").status_code == 422
    assert send(page, "left_head", "crack-test", result="cracked").status_code == 422
    told = send(page, "left_head", "crack-test", result="cracked", crack="12 mm between the seats of 3")
    assert "Tested: cracked. 12 mm between the seats of 3" in told.text
    assert "Cracked: 12 mm between the seats of 3" in told.text
    assert "Left head: cracked, 12 mm between the seats of 3" in page.get("/strip").text


def test_an_answer_taken_back_and_a_removal_undone_ask_again(page: TestClient, store: MemoryStore) -> None:
    take_off(page, store, "left_cover")
    undone = send(page, "left_cover", "undo", reason="it was the right one")
    assert "Saved: it is on again." in undone.text
    back = send(page, "left_cover", "take-back", reason="label of the other side")
    assert "/strip/left_cover/label" in back.text
    assert "Off 0 of 33" in page.get("/strip").text


def test_the_overview_and_the_stage_lead_to_the_next_part_once_the_strip_has_begun(
    page: TestClient, store: MemoryStore
) -> None:
    assert "Take off next" not in page.get("/").text
    strip_by_hand(store, HandClock(), "left_cover")
    text = page.get("/").text
    assert re.search(r'class="button" href="/strip/right_cover">Take off next: take the right cam cover off<', text)
    assert "1 of 33 parts are off" in text
    assert "Strip 1 of 33" in text
    assert "1 of 33 parts are off." in page.get("/stage/strip").text


def test_an_open_gate_holds_its_step_of_the_build_and_inspection_goes_on(page: TestClient, store: MemoryStore) -> None:
    assert "Say so at the strip" not in page.get("/build/left_seats").text
    for name in [*UP_TO_THE_HEAD, "left_head"]:
        strip_by_hand(store, HandClock(), name)
    assert "left head: not cleaned since it came off" in page.get("/build/left_seats").text
    refused = page.post("/build/left_seats/done", data={"by": "Ana"})
    assert refused.status_code == 422
    assert page.get("/measure/face_flatness/left").status_code == 200


def test_what_is_void_stands_on_the_sheets_and_on_the_purchases_before_any_plan(
    page: TestClient, store: MemoryStore
) -> None:
    assert page.get("/sheets/purchases.pdf").status_code == 404
    strip_by_hand(store, HandClock(), "left_cover")
    text = page.get("/sheets").text
    assert "Void since the strip" in text
    assert "to buy: pair of cam cover gaskets" in text
    assert page.get("/sheets/purchases.pdf").content.startswith(b"%PDF")


def test_the_recorded_strip_is_held_against_the_relations(page: TestClient, store: MemoryStore) -> None:
    assert "The strip as recorded" not in page.get("/build/missing").text
    strip_by_hand(store, HandClock(), "flywheel")
    strip_by_hand(store, HandClock(), "left_cover")
    text = page.get("/build/missing").text
    assert "The strip as recorded, 2 parts off" in text
    assert "“Flywheel on by its pin, bolts pulled” fits came off before what “Left cam cover on" in html.unescape(text)


def test_the_labels_are_a_paper_with_every_place_on_it(page: TestClient) -> None:
    reader = pypdf.PdfReader(io.BytesIO(page.get("/strip/labels.pdf").content))
    text = " ".join(" ".join(sheet.extract_text().split()) for sheet in reader.pages)
    labels = [part.label for removal in example()[0].strip.values() for part in removal.parts]
    assert [label for label in labels if label not in text] == []
    fonts = {
        str(font.get_object()["/BaseFont"]) for each in reader.pages for font in each["/Resources"]["/Font"].values()
    }
    assert all("AtkinsonHyperlegible" in font for font in fonts)


def test_an_engine_without_a_strip_says_how_to_add_one(clock: HandClock) -> None:
    store = MemoryStore()
    engine = b"name: Test twin\nlayout: twin\nplaces: {cylinder: {names: [1]}}\ncharacteristics: {}\n"
    assert open_job(store, clock, engine=engine, gauges=b"{}", by="Ana") == []
    page = TestClient(make_app(store, clock, solve_rows, make_paper))
    assert "has no `strip:` yet" in page.get("/strip").text
    assert page.get("/strip/labels.pdf").status_code == 404
    assert page.get("/stage/strip").status_code == 200
