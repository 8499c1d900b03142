"""What a description names, put into a sentence."""

from __future__ import annotations


def the(words: str) -> str:
    """The words with their article; descriptions may write it themselves."""
    return words if words.lower().startswith("the ") else f"the {words}"


def capital(sentence: str) -> str:
    """The same with a capital letter."""
    return sentence[:1].upper() + sentence[1:]
