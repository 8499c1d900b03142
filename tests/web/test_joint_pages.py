"""The pages of a joint without a script: one bolt at a time, safe to send twice, refused with a reason."""

import re
from xml.etree import ElementTree

import pytest
from fastapi.testclient import TestClient
from workbench import HandClock, opened_job, pages_over

from endfloat.assembly.tightening import apart_left
from endfloat.job.events import BoltPulled, BoltSetFitted, JointClosed, PassCompleted
from endfloat.job.wire import from_body
from endfloat.store.memory import MemoryStore
from endfloat.workshop.record import load
from endfloat.workshop.tightening import JointView, joint_view, joint_views

LEFT = ["3", "8", "4", "7", "2", "9", "5", "6", "1", "10"]
BOLTS_IN = {"bolts": "H4", "sort": ["head_bolt"], "thread": ["oil"], "head": ["oil"], "by": "Ana"}
RIGHT_BOLTS_IN = {
    **BOLTS_IN,
    "sort": ["head_bolt", "long_head_bolt"],
    "thread": ["oil", "sealant"],
    "head": ["oil", "oil"],
}


class Bench:
    """One person at the left head, pressing what the page offers."""

    def __init__(self) -> None:
        self.clock = HandClock()
        self.store: MemoryStore = opened_job(self.clock)
        self.client = TestClient(pages_over(self.store, self.clock))

    def look(self, path: str = "/joint/left_head") -> str:
        answer = self.client.get(path)
        assert answer.status_code == 200
        return answer.text

    def form(self, path: str = "/joint/left_head") -> dict[str, str]:
        fields = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)">', self.look(path)))
        return {name: value for name, value in fields.items() if name != "job"}

    def send(self, deed: str, joint: str = "left_head", **data: object) -> tuple[int, str]:
        answer = self.client.post(f"/joint/{joint}/{deed}", data=data)
        return answer.status_code, answer.text

    def bolts_in(self, name: str = "H4") -> None:
        status, text = self.send("set", **{**BOLTS_IN, "bolts": name, "key": self.form()["key"]})
        assert status == 200, text

    def pull_next(self) -> dict[str, str]:
        """Press the button without looking at the page that follows."""
        form = self.next_form()
        gauge = "W1" if form["pass_number"] in "01" else "A1"
        data = {**form, "gauge": gauge, "by": "Ana"}
        answer = self.client.post("/joint/left_head/pull", data=data, follow_redirects=False)
        assert answer.status_code == 303, answer.text
        self.clock.go_on(seconds=30)
        return form

    def next_form(self) -> dict[str, str]:
        """What the form on the page holds, without drawing the page."""
        seen = joint_view(load(self.store)[0], "left_head")
        assert isinstance(seen, JointView)
        number, bolt = seen.upcoming or (0, apart_left(seen.joint, seen.progress)[0])
        return {"key": seen.key(f"{number}/{bolt}"), "pass_number": str(number), "bolt": bolt}

    def events(self, kind: type) -> list[object]:
        return [event for entry in self.store.entries() if isinstance(event := from_body(entry.body), kind)]


@pytest.fixture
def bench() -> Bench:
    return Bench()


def test_the_whole_left_head_goes_from_bolts_in_to_closed(bench: Bench) -> None:
    bench.bolts_in()
    pulled = [bench.pull_next() for _ in range(33)]
    assert [each["bolt"] for each in pulled] == LEFT * 3 + ["11", "12", "13"]
    assert [event.pass_number for event in bench.events(PassCompleted)] == [1, 2, 3]  # type: ignore[attr-defined]
    assert "Look at each pull line" in bench.look()
    status, text = bench.send("close", key=bench.form()["key"], by="Ana")
    assert status == 200
    assert "Closed by Ana" in text
    assert len(bench.events(JointClosed)) == 1


def test_the_page_asks_one_question_and_answers_it_large(bench: Bench) -> None:
    bench.bolts_in()
    for _ in range(14):
        bench.pull_next()
    text = bench.look()
    assert 'class="amount">+ 90 °<' in text
    assert "BOLT 2 PULLED</button>" in text
    assert "pass 2 of 3" in text
    assert "6 left in this pass" in text
    assert "EASILY MISSED M8: 0 of 3" in text
    assert "Bolt set H4, NEW" in text
    drawing = re.search(r'<svg[^>]*class="joint-drawing".*?</svg>', text, re.S)
    assert drawing
    root = ElementTree.fromstring(drawing.group())
    ringed = [each.get("data-bolt") for each in root.iter() if each.get("class") == "next"]
    assert ringed == ["2"]
    angles = {
        bolt.get("data-bolt"): pull.get("data-angle")
        for bolt in root.iter()
        if bolt.get("class") == "bolt"
        for pull in bolt
        if pull.get("class") == "pull"
    }
    assert angles == dict.fromkeys(LEFT[:4], "90") | dict.fromkeys(LEFT[4:], "0")


def test_the_form_on_the_page_asks_for_the_next_bolt_under_its_key(bench: Bench) -> None:
    bench.bolts_in()
    for _ in range(3):
        assert bench.form() == bench.next_form()
        bench.pull_next()


def test_going_back_and_pressing_again_pulls_no_second_bolt(bench: Bench) -> None:
    bench.bolts_in()
    form = bench.pull_next()
    entries = bench.store.entries()
    for _ in range(2):
        status, text = bench.send("pull", **form, gauge="W1", by="Ana")
        assert status == 200
        assert (
            "Bolt 3 was already pulled in pass 1, by Ana, 2026-05-03 at 10:00 (universal time). Counted once." in text
        )
        assert "BOLT 8 PULLED" in text
    assert bench.store.entries() == entries


def test_sending_the_set_and_the_closing_twice_counts_once(bench: Bench) -> None:
    form = {**BOLTS_IN, "key": bench.form()["key"]}
    for _ in range(2):
        assert bench.send("set", **form)[0] == 200
    assert len(bench.events(BoltSetFitted)) == 1


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"bolts": " "}, "Write a name on its bag"),
        ({"by": ""}, "Type a name"),
        ({"thread": [""]}, "nothing said of thread and head"),
        ({"thread": ["dry"]}, "expected thread oil, under the head oil, page 54"),
    ],
)
def test_a_refused_set_says_why_keeps_what_was_typed_and_writes_nothing(
    bench: Bench, change: dict[str, object], words: str
) -> None:
    entries = bench.store.entries()
    status, text = bench.send("set", **{**BOLTS_IN, "key": bench.form()["key"], **change})
    assert status == 422
    assert words in text
    assert f'name="bolts" value="{change.get("bolts", "H4")}"' in text
    assert bench.store.entries() == entries


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"bolt": "7"}, "Pull bolt 3 first (page 54)"),
        ({"pass_number": "2"}, "are not yet pulled in pass 1"),
        ({"gauge": "A1"}, "a gauge for torque: W1"),
        ({"gauge": ""}, "Name the gauge"),
        ({"by": " "}, "Type a name"),
        ({"bolt": "99"}, "a bolt of this joint"),
        ({"pass_number": "0", "bolt": "11"}, "are not yet pulled in pass 1"),
    ],
)
def test_a_refused_pull_says_why_and_writes_nothing(bench: Bench, change: dict[str, str], words: str) -> None:
    bench.bolts_in()
    entries = bench.store.entries()
    form = {**bench.form(), "gauge": "W1", "by": "Ana", **change, "key": "another"}
    status, text = bench.send("pull", **form)
    assert status == 422
    assert words in text
    assert "Nothing was written" in text
    assert bench.store.entries() == entries


def test_the_joint_is_not_closed_while_an_easily_missed_bolt_is_left(bench: Bench) -> None:
    bench.bolts_in()
    for _ in range(32):
        bench.pull_next()
    assert "EASILY MISSED M8: 2 of 3" in bench.look()
    assert "in the timing space, under the chain guide" in bench.look()
    status, text = bench.send("close", key="c", by="Ana")
    assert status == 422
    assert "bolt 13 in the timing space" in text


def test_a_single_use_set_that_was_pulled_goes_into_no_joint_again(bench: Bench) -> None:
    bench.bolts_in("H3")
    bench.pull_next()
    status, text = bench.send("set", joint="right_head", **{**RIGHT_BOLTS_IN, "bolts": "H3", "key": "k"})
    assert status == 422
    assert "bolt set H3, which was already pulled. It is single use" in text
    assert "Enter a new set" in text


def test_felt_wrong_shows_the_way_back_and_only_that_leads_on(bench: Bench) -> None:
    bench.bolts_in()
    form = bench.pull_next()
    status, text = bench.send(
        "wrong", key=bench.form("/joint/left_head/wrong")["key"], pull="1/8", feel="no_rise", by="Ana"
    )
    assert status == 200
    assert "Bolt 8 turned with no rise in pass 1." in text
    assert "slacken all, renew the whole set, start again at pass 1 (page 54)" in text
    assert "Look at the thread in the block" in text
    assert bench.send("pull", **{**form, "key": "k", "bolt": "8"}, gauge="W1", by="Ana")[0] == 422
    assert bench.send("back", key="b", by="Ana")[0] == 422
    bench.bolts_in("H5")
    assert bench.pull_next()["bolt"] == "3"
    assert len(bench.events(BoltPulled)) == 2


def test_stopping_after_a_bolt_felt_wrong_sends_nobody_back_to_the_other_bolts(bench: Bench) -> None:
    bench.bolts_in()
    bench.pull_next()
    key = bench.form("/joint/left_head/wrong")["key"]
    bench.send("wrong", key=key, pull="1/8", feel="no_rise", by="Ana")
    text = bench.look("/stop?joint=left_head")
    assert "Bolt 8 turned with no rise in pass 1: pull no other." in text
    assert "Your description says: slacken all" in text
    assert "Pull them first" not in text
    assert "you go on where you were" not in text


def test_felt_wrong_without_saying_what_is_asked_again(bench: Bench) -> None:
    bench.bolts_in()
    status, text = bench.send("wrong", key="w", pull="1/3", by="Ana")
    assert status == 422
    assert "Say what happened" in text


def test_one_reusable_bolt_is_slackened_and_pulled_again_where_the_description_says_so(bench: Bench) -> None:
    caps = {**BOLTS_IN, "bolts": "C1", "sort": ["cam_cap_bolt"], "key": "s"}
    assert bench.send("set", joint="left_cam_caps", **caps)[0] == 200
    for bolt in ("8", "3", "13"):
        form = bench.form("/joint/left_cam_caps")
        assert form["bolt"] == bolt
        assert bench.send("pull", joint="left_cam_caps", **form, gauge="W2", by="Ana")[0] == 200
    assert bench.send("wrong", joint="left_cam_caps", key="w", pull="1/13", feel="slipped", by="Ana")[0] == 200
    status, text = bench.send("back", joint="left_cam_caps", key=bench.form("/joint/left_cam_caps")["key"], by="Ana")
    assert status == 200
    assert "BOLT 13 PULLED" in text


def test_stopping_tells_the_rule_before_one_walks_away(bench: Bench) -> None:
    assert "No bolt is pulled yet" in bench.look("/stop?joint=left_head")
    bench.bolts_in()
    for _ in range(8):
        bench.pull_next()
    inside = bench.look("/stop?joint=left_head")
    assert "bolts 1 and 10 still to pull. Pull them first if you can" in inside
    assert "Back within 20 min" in inside
    for _ in range(2):
        bench.pull_next()
    assert "Back within 12 h" in bench.look("/stop?joint=left_head")


def test_after_too_long_a_pause_the_rule_stands_on_the_page_and_no_pull_is_taken(bench: Bench) -> None:
    bench.bolts_in()
    for _ in range(12):
        bench.pull_next()
    form = bench.form()
    bench.clock.go_on(hours=3)
    text = bench.look()
    assert "Stopped 3 hours ago inside pass 2" in text
    assert "Do not put a wrench on a pulled bolt to test it." in text
    assert "PULLED</button>" not in text
    assert bench.send("pull", **form, gauge="A1", by="Ana")[0] == 422
    assert "Read this first" in bench.look("/joints")


def test_the_list_of_joints_says_how_far_each_is_and_every_link_leads_somewhere(bench: Bench) -> None:
    bench.bolts_in()
    bench.pull_next()
    text = bench.look("/joints")
    assert "Pass 1 of 3, 9 left in this pass" in text
    joints = joint_views(load(bench.store)[0])
    assert text.count("Not begun") == len(joints) - 1
    links = re.findall(r'href="(/joint/[^"]+)"', text)
    assert links == [f"/joint/{name}" for name in joints]
    assert {bench.client.get(link + more).status_code for link in links for more in ("", "/wrong")} == {200}
    assert "/joints" in bench.look("/")


def test_an_unknown_joint_is_a_sentence_with_a_way_on(bench: Bench) -> None:
    answer = bench.client.get("/joint/lid")
    assert answer.status_code == 404
    assert 'href="/"' in answer.text
    assert bench.send("pull", joint="lid", bolt="1")[0] == 404


def test_no_page_of_a_joint_needs_a_script_or_an_inline_style(bench: Bench) -> None:
    for path in ("/joints", "/joint/left_head", "/joint/damper_bolt", "/joint/left_head/wrong"):
        text = bench.look(path)
        assert "onclick" not in text
        assert "style=" not in text.replace('rel="stylesheet"', "")


def test_feeling_wrong_with_nothing_chosen_says_so_and_writes_nothing() -> None:
    bench = Bench()
    bench.bolts_in()
    bench.pull_next()
    entries = bench.store.entries()
    status, text = bench.send("wrong", key="w", pull="1/3", by="Ana")
    assert status == 422
    assert "found nothing; expected one of those on the page. Say what happened." in text
    status, text = bench.send("wrong", key="w", feel="slipped", by="Ana")
    assert status == 422
    assert "found no bolt chosen" in text
    assert bench.store.entries() == entries


def test_a_form_that_no_page_sends_is_answered_with_a_page_and_writes_nothing() -> None:
    bench = Bench()
    bench.bolts_in()
    entries = bench.store.entries()
    answer = bench.client.post("/joint/left_head/pull", data={"pass_number": "first", "bolt": "3"})
    assert answer.status_code == 422
    assert "text/html" in answer.headers["content-type"]
    assert "What was sent cannot be read: pass number. Nothing was written." in answer.text
    assert "default-src" in answer.headers["content-security-policy"]
    wrong_way = bench.client.post("/joints", data={})
    assert wrong_way.status_code == 405
    assert "<h1>Stopped</h1>" in wrong_way.text
    assert bench.store.entries() == entries
