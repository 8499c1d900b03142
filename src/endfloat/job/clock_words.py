"""The clocks in words. What is left is never told too long, and a wait never too short."""

from __future__ import annotations

from endfloat.engine.relations import Clocked
from endfloat.engine.sentences import capital
from endfloat.job.clocks import Timer


def words(timer: Timer) -> str:
    """One sentence: how long it runs, or since when it is over and what then."""
    name, back = capital(timer.clock), set_back_words(timer)
    if timer.sort == "not before":
        if timer.is_over:
            return f"{name}: over for {duration(-timer.seconds_left)}.{back}"
        return f"{name}: {duration(timer.seconds_left + 59)} more: {timer.why}.{back}"
    if timer.seconds_left >= 0:
        return f"{name}: {duration(timer.seconds_left)} left.{back}"
    rule = capital(timer.late_do) if timer.late_do else "Look up in your service book what to do then"
    return f"{name}: its open time ended {duration(-timer.seconds_left)} ago: {timer.why}. {rule}.{back}"


def set_back_words(timer: Timer) -> str:
    """That the clock of the computer stands, or stood at the start, before an earlier entry; nothing where not."""
    if timer.set_back:
        told = duration(timer.set_back)
        counted = "this wait grows by as much" if timer.sort == "not before" else "the time counts from the record"
        return f" The clock of the workshop computer was set back by {told}: {counted}. Look at the time yourself."
    if timer.behind:
        told = duration(timer.behind)
        return (
            f" The clock of the workshop computer was set back by {told} before this began. Look at the time yourself."
        )
    return ""


def band_words(clock: Clocked) -> list[str]:
    """Each band with its time, coldest first."""
    ordered = sorted(clock.bands, key=lambda each: each.at_least.exact_si)
    return [f"{each.at_least.text} to {each.below.text} {each.minutes} minutes" for each in ordered]


def duration(seconds: int) -> str:
    """A time in whole minutes, rounded down; in hours and minutes from 100 on."""
    minutes = seconds // 60
    if not minutes:
        return "less than a minute"
    if minutes < 100:
        return f"{minutes} minute{'' if minutes == 1 else 's'}"
    hours = f"{minutes // 60} hour{'' if minutes // 60 == 1 else 's'}"
    return f"{hours} {minutes % 60} minutes" if minutes % 60 else hours
