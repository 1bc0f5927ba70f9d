"""`--fix`: what is mechanical is put right, and every other character of the file stays."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from regkit.commands import main
from regkit.keep.lint import lint
from regkit.keep.lint.remark import Mend
from regkit.keep.mend import mend, mended_text
from tests.lint_corpus import TODAY, lay

FILE = """\
# A comment at the top, kept as it is.

red:   # with   odd spacing
  title: "Red: a colour"
  class: yes
  when: {thing.red:   yes}
  sources: [act,   # the first
            act]
blue:
  title: Blue
  class: yes
  when: {thing.red: no}
  sources:
    - act   # why
    - act
  note: >-
    Folded text,
    kept as it is.
"""


def test_what_is_mended_and_nothing_else(tmp_path: Path) -> None:
    """The schema line is written, the second name dropped; comments, quotes and layout stay.

    Where a comment stands between two names the change is left to a person.
    """
    folder = lay(tmp_path, {"definitions.yaml": FILE})
    file = folder / "definitions" / "added.yaml"

    done = mend(lint(folder, TODAY))
    first, _, rest = file.read_text("utf-8").partition("\n")

    assert sorted(remark.code for remark in done) == ["schema-line"]
    assert first.startswith("# yaml-language-server: $schema=")
    assert first.endswith("definitions.schema.json")
    assert rest == FILE


@pytest.mark.parametrize(("before", "after"), [
    ("a: {sources: [act, act]}\n", "a: {sources: [act]}\n"),
    ("a: {sources: [act, page, act]}  # c\n", "a: {sources: [act, page]}  # c\n"),
    ("a:\n  sources:\n    - act\n    - act\n  note: n\n", "a:\n  sources:\n    - act\n  note: n\n"),
])
def test_the_second_name_is_dropped(before: str, after: str) -> None:
    """From a list in brackets or with dashes, wherever it stands."""
    at = before.count(",") or 1
    text, changed = mended_text(before, [Mend(("a", "sources", at), "act", None)])

    assert text == after
    assert len(changed) == 1


def test_a_value_that_is_not_there_is_not_replaced() -> None:
    """Quoted or changed meanwhile: nothing is guessed."""
    text = 'a: {sources: [act, "act"]}\n'

    assert mended_text(text, [Mend(("a", "sources", 1), "act", None)]) == (text, [])


def test_mending_twice_changes_nothing_more(tmp_path: Path) -> None:
    """And what could be mended is no longer remarked on."""
    folder = lay(tmp_path, {"definitions.yaml": "red: {title: Red, class: yes, when: {thing.red: "
                                                "yes}, sources: [act, act]}\n"})
    codes = {remark.code for remark in mend(lint(folder, TODAY))}
    after = lint(folder, TODAY)

    assert codes == {"schema-line", "named-twice"}
    assert mend(after) == ()
    assert not codes & {remark.code for remark in after.remarks}


def test_the_command_says_what_it_mended(tmp_path: Path) -> None:
    """And checks again, so that what it prints is how things stand now."""
    folder = lay(tmp_path, {"charges.yaml": "fee: {title: Fee, amount: 5 XTS, sources: [act]}\n"})
    result = CliRunner().invoke(main, ["check", str(folder), "--fix", "--level", "to-do"])

    assert "mended: qa/charges/added.yaml:1: [schema-line]" in result.output
    assert result.output.count("[schema-line]") == 1


def test_line_ends_of_another_system_stay(tmp_path: Path) -> None:
    """A file with CR LF keeps them."""
    text = "a:\r\n  sources:\r\n    - act\r\n    - act\r\n"

    assert mended_text(text, [Mend(("a", "sources", 1), "act", None)])[0] == (
        "a:\r\n  sources:\r\n    - act\r\n")


def test_without_the_round_trip_library_a_clear_message(monkeypatch: pytest.MonkeyPatch) -> None:
    """Everything else of `check` works without it."""
    monkeypatch.setitem(sys.modules, "ruamel.yaml", None)
    with pytest.raises(ImportError, match=r"pip install ruamel\.yaml"):
        mended_text("a: {sources: [act, act]}\n", [Mend(("a", "sources", 1), "act", None)])


def test_json_output_says_what_can_be_mended(tmp_path: Path) -> None:
    """For programs that offer it."""
    folder = lay(tmp_path, {"charges.yaml": "fee: {title: Fee, amount: 5 XTS, sources: [act]}\n"})
    result = CliRunner().invoke(main, ["check", str(folder), "--format", "json"])
    (report,) = json.loads(result.output)

    assert {remark["code"]: remark["can be mended"] for remark in report["remarks"]} == {
        "unused": False, "schema-line": True, "no-example": False}


def test_an_old_name_becomes_the_new_one(tmp_path: Path) -> None:
    """Used as if it still were one, it does not load; renamed.yaml knows what it became."""
    folder = lay(tmp_path, {
        "renamed.yaml": "ancient: {to: old, on: 2026-11-25, because: Plainer.}\n",
        "definitions.yaml": "red: {title: Red, class: yes, when: {holds: ancient}, "
                            "sources: [act]}  # kept\n"})

    (done,) = (r for r in mend(lint(folder, TODAY)) if r.code == "unknown-name")

    assert "ancient" in done.text
    text = (folder / "definitions" / "added.yaml").read_text("utf-8")
    assert "when: {holds: old}, sources: [act]}  # kept" in text
    assert lint(folder, TODAY).ruleset is not None


def test_a_bare_version_gets_its_quotes(tmp_path: Path) -> None:
    """2026.10 without quotes would be the number 2026.1; the digits stay as they are written."""
    folder = lay(tmp_path, {})
    head = folder / "ruleset.yaml"
    head.write_text(head.read_text("utf-8").replace('"2026.1"', "2026.10  # ten"), "utf-8")

    assert [remark.code for remark in mend(lint(folder, TODAY))] == ["malformed"]
    assert 'version: "2026.10"  # ten' in head.read_text("utf-8")
    assert lint(folder, TODAY).ruleset is not None
