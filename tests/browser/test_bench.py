"""Readings entered in a real browser: by keypad, by keyboard, by a gauge that types, and while nothing answers."""

from playwright.sync_api import BrowserContext, Page, expect

PLACE = "/measure/bore_size/7"


def ready(page: Page, path: str = PLACE) -> Page:
    """A measure page with a name typed, and its worker in charge."""
    page.goto(path)
    page.locator("[name=by]").first.fill("Ana")
    page.evaluate("navigator.serviceWorker.ready")
    return page


def by_hand(served) -> list[tuple[str, str, str]]:
    taken = served.events("ReadingTaken")
    return [(t.text, t.station, t.axis) for t in taken if not t.key.startswith("file-")]


def test_the_keypad_saves_and_moves_to_the_next_spot(phone: BrowserContext, served) -> None:
    page = ready(phone.new_page())
    before = page.locator("[name=spot]").input_value()
    for key in "86.0450":
        page.locator(".key", has_text=key).first.click()
    page.locator(".key", has_text="Back").click()
    assert page.locator("#text").input_value() == "86.045"
    page.locator(".save").click()
    expect(page.locator("main")).to_contain_text("Saved: 86.045 mm")
    assert [text for text, *_ in by_hand(served)] == ["86.045 mm"]
    assert page.locator("[name=spot]").input_value() != before
    assert page.locator("#text").input_value() == ""


def test_a_gauge_line_is_taken_wherever_the_focus_is_and_never_as_a_shortcut(phone: BrowserContext, served) -> None:
    page = ready(phone.new_page(), "/measure/bore_size/3")
    texts = ["86.041 mm", "86.042 mm", "86.043 mm", "86.044 mm"]
    for text, focus in zip(texts, ["#text", "[name=by]", ".leave button", "body"], strict=True):
        if focus == "body":
            page.evaluate("document.activeElement.blur()")
        else:
            page.locator(focus).first.focus() if focus != "[name=by]" else page.locator(
                "#entry details summary"
            ).click()
            page.locator(focus).locator("visible=true").first.focus()
        page.keyboard.type(text)
        page.keyboard.press("Enter")
        expect(page.locator("main")).to_contain_text(f"Saved: {text}")
    assert [text for text, *_ in by_hand(served)] == texts
    assert {t.by for t in served.events("ReadingTaken")} == {"as found", "Ana"}
    assert served.events("PlaceLeftUnmeasured") == []


def test_keyboard_alone_takes_a_reading(phone: BrowserContext, served) -> None:
    page = ready(phone.new_page())
    page.locator("#text").focus()
    page.keyboard.type("86.05", delay=80)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.tagName") == "BUTTON"
    page.locator(".save").focus()
    page.keyboard.press("Space")
    expect(page.locator("main")).to_contain_text("Saved: 86.05 mm")
    assert len(by_hand(served)) == 1


def test_a_slip_gets_a_question_and_typing_it_again_withdraws_it(phone: BrowserContext, served) -> None:
    page = ready(phone.new_page())
    spot = page.locator("[name=spot]").input_value()
    page.locator("#text").fill("8.605")
    page.locator(".save").click()
    expect(page.locator("main")).to_contain_text("Is the decimal mark in the right place?")
    page.get_by_role("button", name="Type it again").click()
    expect(page.get_by_role("button", name="Type it again")).to_have_count(0)
    assert page.locator("[name=spot]").input_value() == spot
    assert len(served.events("ReadingWithdrawn")) == 1


def test_a_place_can_be_left_unmeasured_with_a_name(phone: BrowserContext, served) -> None:
    page = ready(phone.new_page(), "/measure/ring_gap/3")
    page.locator(".leave [name=by]").fill("Ana")
    page.get_by_role("button", name="Does not apply").click()
    expect(page.locator("main")).to_contain_text("Does not apply, says Ana")
    assert [(e.place, e.answer) for e in served.events("PlaceLeftUnmeasured")] == [("3", "does_not_apply")]


def test_entries_made_while_nothing_answers_wait_survive_a_reload_and_arrive_once_in_order(
    phone: BrowserContext, served
) -> None:
    page = ready(phone.new_page(), "/measure/bore_size/3")
    page.goto("/measure/bore_size/3")
    phone.set_offline(True)
    for text in ("86.041", "86.042"):
        page.locator("[name=by]").first.fill("Ana")
        page.locator("#text").fill(text)
        page.locator(".save").click()
    expect(page.locator("#kept")).to_have_text("Kept on this device, 2 waiting")
    assert "Saved:" not in page.locator("main").inner_text()
    page.reload()
    expect(page.locator("#kept")).to_have_text("Kept on this device, 2 waiting")
    expect(page.locator("#away")).to_contain_text("The workshop computer does not answer")
    assert by_hand(served) == []
    phone.set_offline(False)
    expect(page.locator("#kept")).to_have_text("Everything shown is saved", timeout=9000)
    assert [text for text, *_ in by_hand(served)] == ["86.041 mm", "86.042 mm"]


def test_a_refused_entry_stays_on_the_device_and_is_shown_for_correction(phone: BrowserContext, served) -> None:
    page = ready(phone.new_page())
    page.locator("#text").fill("86,04 86,05")
    page.locator(".save").click()
    expect(page.locator("#refused")).to_contain_text("Not in the record: `86,04 86,05`")
    page.reload()
    page.get_by_role("button", name="Correct it").click()
    expect(page.locator("#text")).to_have_value("86,04 86,05")
    page.locator("#text").fill("86,04")
    page.locator(".save").click()
    expect(page.locator("main")).to_contain_text("Saved: 86.04 mm")
    expect(page.locator("#refused")).to_be_hidden()
    assert len(by_hand(served)) == 1


def test_what_was_entered_for_one_engine_waits_while_another_is_open(phone: BrowserContext, served) -> None:
    page = ready(phone.new_page())
    phone.set_offline(True)
    page.locator("#text").fill("86.041")
    page.locator(".save").click()
    expect(page.locator("#kept")).to_have_text("Kept on this device, 1 waiting")
    page.evaluate("document.body.dataset.job = 'another'")
    phone.set_offline(False)
    expect(page.locator("#waiting")).to_contain_text("Kept on this device for another engine: 1.", timeout=9000)
    assert by_hand(served) == []
    page.reload()
    expect(page.locator("main")).to_contain_text("Saved: 86.041 mm", timeout=9000)
    assert [text for text, *_ in by_hand(served)] == ["86.041 mm"]


def test_each_refused_entry_is_shown_the_latest_first(phone: BrowserContext, served) -> None:
    page = ready(phone.new_page())
    for text in ("eighty six", "86.1 86.2"):
        page.locator("#text").fill(text)
        page.locator(".save").click()
        expect(page.locator("#refused p").first).to_contain_text(f"Not in the record: `{text}`")
    expect(page.locator("#refused p")).to_have_count(2)
    page.get_by_role("button", name="Leave it out").first.click()
    expect(page.locator("#refused p")).to_have_count(1)
    expect(page.locator("#refused")).to_contain_text("`eighty six`")
    assert by_hand(served) == []


def test_five_hundred_entries_made_while_nothing_answers_arrive_once_and_in_order(
    phone: BrowserContext, served
) -> None:
    page = ready(phone.new_page())
    phone.set_offline(True)
    texts = [f"86.{number:04}" for number in range(1, 501)]
    page.evaluate(
        """async (texts) => {
            const form = document.getElementById("entry");
            for (const text of texts) {
                form.elements.text.value = text;
                form.requestSubmit();
                await new Promise((done) => setTimeout(done, 4));
            }
        }""",
        texts,
    )
    expect(page.locator("#kept")).to_have_text("Kept on this device, 500 waiting", timeout=30_000)
    assert by_hand(served) == []
    phone.set_offline(False)
    expect(page.locator("#kept")).to_have_text("Everything shown is saved", timeout=400_000)
    assert [text for text, *_ in by_hand(served)] == [f"{text} mm" for text in texts]
    keys = [taken.key for taken in served.events("ReadingTaken")]
    assert len(keys) == len(set(keys))
