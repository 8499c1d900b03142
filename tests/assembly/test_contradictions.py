"""What no order can keep is proved, in as few sentences as the proof needs; each proof here is the only fault."""

from itertools import permutations

import pytest
from descriptions import engine_of
from slow_checker import broken

from endfloat.assembly.contradictions import contradiction
from endfloat.assembly.generate import NoOrder, build_order
from endfloat.engine.circles import circle

STEPS = {
    "a": {"minutes": 10, "persons": 2},
    "b": {"minutes": 10, "attitude": "down", "bank": "left"},
    "c": {"minutes": 10, "persons": 2, "bank": "right"},
    "d": {"minutes": 10, "bank": "left"},
    "e": {"minutes": 10, "bank": "right"},
}


def links(*pairs: str) -> dict:
    return {"before": [{"first": first, "then": then} for first, then in pairs]}


@pytest.mark.parametrize(
    ("relations", "sentences", "words"),
    [
        (links("ab", "bc", "ca", "de"), 3, "“A” comes before “B”"),
        (links("ab", "bc", "cd", "da", "cb"), 2, "“C” comes before “B”"),
        ({**links("ab", "bc"), "unbroken": [{"sequence": ["a", "c"]}]}, 3, "not parted"),
        ({**links("ab", "bc"), "as_one_move": [{"operations": ["a", "c"]}]}, 3, "not parted"),
        ({**links("ab", "bc"), "confirm_again_now": [{"check": "a", "before": "c"}]}, 3, "not parted"),
        ({**links("ab", "bc"), "attitude": [{"attitude": "up", "since": "a", "until": "c"}]}, 3, "stays up"),
        ({**links("ab", "bc"),
          "kept_true": [{"state": "it holds", "set_by": "a", "during": ["c"], "lost_by": ["b"]}]},
         3, "undoes it that it holds"),
        ({**links("ab", "bc"),
          "aid_in_aid_out": [{"aid": "lock", "in_by": "a", "out_by": "c", "nought_before": ["b"]}]},
         3, "no lock left in"),
        ({**links("ab", "bc"), "clocked": [{"what": "bead", "starts": "a", "close_with": "c", "open_minutes": 15}]},
         3, "takes 20"),
        ({**links("ab", "bc"), "second_person": [{"operations": ["a", "c"], "minutes": 25}]}, 1, "takes 30"),
        ({"clocked": [{"what": "bead", "starts": "a", "cure_minutes": 35, "not_before": ["b"]}]}, 1,
         "no more than 30 minutes"),
        ({**links("bc", "ed"), "sides_differ": [{"what": "pins", "sides": {"left": ["b", "d"], "right": ["c", "e"]}}]},
         3, "not mixed (pins)"),
    ],
)  # fmt: skip
def test_a_contradiction_is_proved_in_the_fewest_sentences(relations: dict, sentences: int, words: str) -> None:
    description = {"operations": STEPS, "relations": relations}
    engine = engine_of(description)
    proof = contradiction(engine)
    assert proof is not None
    assert len(proof.sentences) == sentences
    assert words in proof.text()
    assert all(broken(description, order) for order in permutations(STEPS))
    if not circle(engine):
        assert build_order(engine) == NoOrder(proved=True)


def test_without_any_one_of_the_links_there_is_an_order_again() -> None:
    whole = links("ab", "bc", "ca")["before"]
    for left_out in range(3):
        engine = engine_of({"operations": STEPS, "relations": {"before": whole[:left_out] + whole[left_out + 1 :]}})
        assert contradiction(engine) is None
