"""The one language layer: every text a person reads passes through here.

This is the lowest room: it imports nothing of ours. Program texts are `Phrase` values, English
templates with typed arguments; ruleset texts are `Text` values, one wording per language. Both stay
data until somebody asks for words, so judging never formats anything.
"""

from regkit.language.phrase import (
    Argument,
    Country,
    Either,
    Money,
    Month,
    Phrase,
    Text,
    joined,
    phrase,
)
from regkit.language.speaker import Speaker, speaker

__all__ = [
    "Argument",
    "Country",
    "Either",
    "Money",
    "Month",
    "Phrase",
    "Speaker",
    "Text",
    "joined",
    "phrase",
    "speaker",
]
