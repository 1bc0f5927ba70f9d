"""What printed sheets share: what they say of vehicle and keeper, and their last line."""

from __future__ import annotations

from regkit.language import Phrase, Speaker, phrase
from regkit.model.assessment import Assessment

SHOWN_FACTS = (
    "vehicle.kind", "vehicle.maker", "vehicle.model", "vehicle.built", "vehicle.frame_number",
    "vehicle.engine_number", "keeper.name", "keeper.address",
)


def about_case(assessment: Assessment, speak: Speaker) -> list[tuple[str, str]]:
    """Return label and value of the facts that name vehicle and keeper, where they are known."""
    case, vocabulary = assessment.case, assessment.ruleset.vocabulary
    shown = []
    for name in SHOWN_FACTS:
        value = case.value(name)
        if name in vocabulary and (value.told or value.either) and value.word is None:
            fact = vocabulary[name]
            shown.append((speak.say(fact.label), speak.say(fact.say(value))))
    return shown


def foot(assessment: Assessment) -> Phrase:
    """Return the last line of a sheet: by which rules, and that it decides nothing."""
    ruleset = assessment.ruleset
    return phrase(
        "Made with regkit by the rules of {place}, version {version} ({digest}), as of {day}. "
        "It informs and replaces neither the authority's own form nor its decision.",
        place=ruleset.title, version=ruleset.version, digest=ruleset.digest[:12],
        day=assessment.on,
    )
