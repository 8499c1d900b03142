"""Work that is back closes its decision, and with it what needs another part than the one in the house."""

from cast import example
from endfloat.inspection.returned import as_returned


def test_what_needs_other_parts_than_those_in_the_house_is_no_longer_to_be_had() -> None:
    engine = example()[0]
    needing = {key for key, option in engine.decisions["bore_set"].options.items() if option.needs}
    assert needing == {"rebore_025", "rebore_050"}
    back = as_returned(engine, {"pistons": "oversize_025"})
    assert list(back.decisions["pistons"].options) == ["oversize_025"]
    assert set(engine.decisions["bore_set"].options) - set(back.decisions["bore_set"].options) == {"rebore_050"}
    assert as_returned(engine, {}) is engine
