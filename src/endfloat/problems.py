"""Something wrong with the user's data: a value that is collected and shown, never raised."""

from __future__ import annotations

from dataclasses import asdict, dataclass


def quoted(word: str) -> str:
    """A word as it was sent, or that nothing was."""
    return f"`{word}`" if word.strip() else "nothing"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong: where, what was found, what was expected, what to do."""

    code: str
    place: str
    found: str
    expected: str
    remedy: str
    line_text: str = ""
    column: int = 0

    def text(self) -> str:
        """The whole message; the source line with a caret when it is known."""
        message = f"{self.place}: found {self.found}; expected {self.expected}. {self.remedy}"
        if self.line_text:
            message += f"\n    {self.line_text}\n    {' ' * (self.column - 1)}^"
        return message

    def as_json(self) -> dict[str, object]:
        return {key: value for key, value in asdict(self).items() if value not in ("", 0)}
