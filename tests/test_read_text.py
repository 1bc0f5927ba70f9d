"""Text to data: only what JSON could hold, nothing by surprise, every line remembered.

What YAML 1.1 would make of these texts, and why that is refused: YAML 1.2.2, section 10.2 (the JSON
schema); PyYAML resolves YAML 1.1. JSON: RFC 8259.
"""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from regkit.read.problems import Unreadable
from regkit.read.text import DEEPEST, LARGEST, read_file, read_text
from tests.untranslated import in_english_only


def wrong(text: str, file: str = "x.yaml") -> str:
    """Return all that is wrong with a text, one problem a line; each language can say it."""
    with pytest.raises(Unreadable) as caught:
        read_text(text, file)
    assert in_english_only(caught.value.problems) == set()
    return str(caught.value)


@pytest.mark.parametrize("written", [
    "2023-01-01", "NO", "no", "yes", "On", "12:30", "012", "0x1F", "0b1", "1_000", "+1", "1.", ".5",
    ".inf", ".nan", "~", "True", "Null", "1962~", "../1959", "1962/1964", "=", "50%",
])
def test_what_looks_special_stays_text(written: str) -> None:
    """PyYAML alone would make dates, booleans, base-60 or base-8 numbers of most of these."""
    assert read_text(f"a: {written}").data == {"a": written}


@pytest.mark.parametrize(("written", "meant"), [
    ("1", 1), ("-7", -7), ("1.50", 1.5), ("1e3", 1000.0), ("true", True), ("false", False),
    ("null", None), ("", None), ('"1"', "1"), ("'true'", "true"), ('"null"', "null"),
])
def test_only_json_types_are_resolved(written: str, meant: object) -> None:
    """Numbers, true, false and null as JSON writes them; quoted text stays text."""
    found = read_text(f"a: {written}").data["a"]

    assert (found, type(found)) == (meant, type(meant))


def alike(text: str) -> bool:
    """Return whether a bare text is no number in JSON, or one in YAML 1.1 too; `0E0` is not."""
    return re.fullmatch(r"-?\d+[eE][-+]?\d+", text) is None


json_data = st.recursive(
    st.none() | st.booleans() | st.integers(-10**15, 10**15)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(st.characters(min_codepoint=32, max_codepoint=126) | st.sampled_from("äß€😀"))
    .filter(alike),
    lambda inner: st.lists(inner, max_size=4)
    | st.dictionaries(st.text(st.characters(min_codepoint=97, max_codepoint=122), min_size=1),
                      inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=100, deadline=None)
@given(json_data, st.sampled_from([None, 2, "\t"]), st.booleans())
def test_json_files_mean_what_the_json_module_says(
    data: object, indent: int | str | None, ascii_only: bool
) -> None:
    """Any JSON, indented by blanks or tabs, escaped or not, is read as Python's own reader does."""
    text = json.dumps(data, indent=indent, ensure_ascii=ascii_only)

    assert read_text(text, "x.json").data == json.loads(text)


@settings(max_examples=100, deadline=None)
@given(json_data)
def test_plain_yaml_means_what_pyyaml_says(data: object) -> None:
    """Where YAML 1.1 and JSON types agree, so do we (PyYAML writes, we read)."""
    assert read_text(yaml.safe_dump(data, allow_unicode=True)).data == data


@pytest.mark.parametrize(("text", "expected"), [
    ("a: 1\nb: 2\na: 3", "x.yaml:3: `a` stands here a second time; the first is on line 1"),
    ("a:\n  b: 1\n  b: 2", "x.yaml:3: `b` stands here a second time; the first is on line 2"),
    ("a: &x 1\nb: *x", "x.yaml:2: `*x` repeats another place"),
    ("a: &x 1", "x.yaml:1: `&x` marks a place"),
    ("&k a: 1", "x.yaml:1: `&k` marks a place"),
    ("a: {x: 1}\nb:\n  <<: {y: 1}", "x.yaml:3: `<<` merges another map"),
    ("a: !!python/object/apply:os.system [id]", "python/object/apply:os.system` is not allowed"),
    ("a: !!str 1", "tag:yaml.org,2002:str` is not allowed"),
    ("a: !!binary aGk=", "binary` is not allowed"),
    ("a: !home x", "x.yaml:1: the tag `!home` is not allowed"),
    ("a: 1\n---\nb: 2", "x.yaml:2: holds a second document"),
    ("? {a: 1}\n: b", "x.yaml:1: a key must be plain text"),
    ("? [a]\n: b\nc: d", "x.yaml:1: a key must be plain text"),
    ("a: [1, 2", "x.yaml:2: is not YAML"),
    ("a:\n\tb: 1", "x.yaml:2: is not YAML: while scanning for the next token, found character that "
     "cannot start any token; indent with spaces, not tabs"),
    ("a: b: c", "put quotes around text that holds ': '"),
    ("a: " + "9" * 31, "x.yaml:1: a number of 31 digits; put quotes around an identifier"),
    ("a: 1e999", "x.yaml:1: 1e999 is too large a number"),
    ("a: " + "[" * 5000, f"x.yaml:1: is nested deeper than {DEEPEST} levels"),
    ("[" * 41 + "]" * 41, f"x.yaml:1: is nested deeper than {DEEPEST} levels"),
    ("\n".join("  " * depth + "a:" for depth in range(100)),
     f"x.yaml:41: is nested deeper than {DEEPEST} levels"),
])
def test_what_json_could_not_say_is_refused_with_its_line(text: str, expected: str) -> None:
    """Keys twice, anchors, aliases, tags, merges, more documents, depth, huge numbers."""
    assert expected in wrong(text)


def test_a_small_file_cannot_grow_large() -> None:
    """Nine lists of nine aliases each would be a thousand million items ('billion laughs')."""
    lines = ["a0: &a0 [lol]"] + [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]"
                                 for n in range(1, 10)]
    said = wrong("\n".join(lines))

    assert "x.yaml:1: `&a0` marks a place" in said and "x.yaml:10: `*a8` repeats" in said


def test_all_problems_are_told_at_once() -> None:
    """One pass names everything that can be named, in the order of lines."""
    said = wrong("a: 1\na: 2\nb: !x 3\nc: *d\n")

    assert [line.split(": ")[0] for line in said.splitlines()] == ["x.yaml:2", "x.yaml:3",
                                                                    "x.yaml:4"]


@pytest.mark.parametrize("code", ["0000", "0007", "001B", "007F", "009B", "061C", "200B", "200E",
                                  "202E", "2060", "2066", "FEFF"])
def test_invisible_characters_are_refused_raw_and_escaped(code: str) -> None:
    """Control characters a terminal obeys, and those that turn or hide text (Unicode UAX 9)."""
    character = chr(int(code, 16))
    expected = f":2: holds the invisible character U+{code}; remove it"

    assert expected in wrong(f"a: 1\nb: x{character}y")
    assert expected in wrong(f'a: 1\nb: "x\\u{code}y"')
    assert expected in wrong(f'{{"a": 1,\n"b\\u{code}": 2}}', "x.json")


@pytest.mark.parametrize(("text", "expected"), [
    ('{"a": NaN}', "x.json:1: NaN is no value of JSON"),
    ('{"a":\n-Infinity}', "x.json:2: -Infinity is no value of JSON"),
    ('{"a": 1,\n"a": 2}', "x.json:2: `a` stands here a second time; the first is on line 1"),
    ("a: 1", "x.json:1: is not JSON"),
    ('{"a": 1,}', "x.json:1: is not JSON"),
    ('{"a": 1} # remark', "x.json:1: is not JSON"),
    ("{} {}", "x.json:1: is not JSON"),
    ("", "x.json:1: is not JSON"),
    ("[" * 100_000, f"x.json:1: is nested deeper than {DEEPEST} levels"),
    ("[" * 500 + "]" * 500, f"x.json:1: is nested deeper than {DEEPEST} levels"),
    ('{"a": 1e999}', "x.json:1: 1e999 is too large a number"),
    ('{"a": ' + "9" * 5000 + "}", "x.json:1: a number of 5,000 digits"),
])
def test_json_files_are_strict_json(text: str, expected: str) -> None:
    """A file named .json is read as JSON, whose rules are stricter than YAML's."""
    assert expected in wrong(text, "x.json")
    assert expected.replace("x.json", "X.JSON") in wrong(text, "X.JSON")


@pytest.mark.parametrize("text", ["", "# only a remark\n", "---\n"])
def test_an_empty_file_is_nothing(text: str) -> None:
    """What nothing means is for the reader of the file to say."""
    assert read_text(text).data is None


def test_lines_are_remembered() -> None:
    """Every node knows its line; what is not there is placed at what encloses it."""
    document = read_text("a:\n  - b: 1\n  - c:\n      d: 2\n")

    assert document.line(("a", 0, "b")) == 2
    assert document.line(("a", 1, "c", "d")) == 4
    assert document.line(("a", 1, "nowhere", 7)) == 3
    assert read_text('{"a":\n[1,\n2]}', "x.json").line(("a", 1)) == 3


@pytest.mark.parametrize(("raw", "expected"), [
    (b"a: 1\nb: \xff\xfe", ":2: is not UTF-8 text; save it as UTF-8"),
    ("a: ü".encode("latin-1"), ":1: is not UTF-8 text"),
    (b"a: x" + b"x" * LARGEST, f"{LARGEST:,} are the most that is read"),
])
def test_files_that_are_no_text_or_too_large(tmp_path: Path, raw: bytes, expected: str) -> None:
    """The name of the file stands first, then what is wrong."""
    file = tmp_path / "case.yaml"
    file.write_bytes(raw)
    with pytest.raises(Unreadable) as caught:
        read_file(file)

    assert expected in str(caught.value) and str(caught.value).startswith(str(file))


def test_a_missing_file_and_a_folder_are_said_plainly(tmp_path: Path) -> None:
    """No traceback, the operating system's own reason."""
    with pytest.raises(Unreadable, match="cannot be read: No such file"):
        read_file(tmp_path / "none.yaml")
    with pytest.raises(Unreadable, match="cannot be read: Is a directory"):
        read_file(tmp_path)


def test_a_byte_order_mark_at_the_start_is_skipped(tmp_path: Path) -> None:
    """Some editors write one; it says nothing in UTF-8."""
    file = tmp_path / "case.yaml"
    file.write_bytes(b"\xef\xbb\xbfa: 1")

    assert read_file(file).data == {"a": 1}
