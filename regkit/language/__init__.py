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
    YearDay,
    joined,
    phrase,
    plural,
)
from regkit.language.speaker import Speaker, languages, speaker, spoken
from regkit.language.wrong import Wrong

__all__ = [
    "Argument",
    "Country",
    "Either",
    "Money",
    "Month",
    "Phrase",
    "Speaker",
    "Text",
    "Wrong",
    "YearDay",
    "joined",
    "languages",
    "phrase",
    "plural",
    "speaker",
    "spoken",
]
