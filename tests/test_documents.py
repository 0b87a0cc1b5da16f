"""TOML files a person wrote: what is no plan file at all, and the line every key stands on."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from roundown import documents
from roundown.documents import Document, dotted, one_line, open_document, parse_document, shown
from roundown.errors import Complaint

TEXT = """\
# a remark
format = 1

[place]
date = 1949-03-17   # with a remark
"odd key" = "x"

[weather]
winds = [
  { height = "500 ft", wind = "145/15 kt" },
  # a remark inside
  { height = "2000 ft", wind = "155/19 kt" },

]
air.temperature = "21 C"

[ships.mine.override.circuit]
break_bank = { value = "28 deg", source = "me" }

[[cues]]
says = "one"

[[cues]]
says = "two"
[cues.area]
name = "ramp"
"""


def document(text: str) -> Document:
    found = parse_document("day.toml", text)
    assert isinstance(found, Document), found
    return found


def complaint(text: str) -> Complaint:
    found = parse_document("day.toml", text)
    assert isinstance(found, Complaint)
    return found


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("format",), 2),
        (("place",), 4),
        (("place", "date"), 5),
        (("place", "odd key"), 6),
        (("weather", "winds"), 9),
        (("weather", "winds", 0), 10),
        (("weather", "winds", 0, "wind"), 10),
        (("weather", "winds", 1), 12),
        (("weather", "winds", 1, "wind"), 12),
        (("weather", "air"), 15),
        (("weather", "air", "temperature"), 15),
        (("ships", "mine", "override", "circuit"), 17),
        (("ships", "mine"), 17),
        (("ships", "mine", "override", "circuit", "break_bank", "source"), 18),
        (("cues", 0, "says"), 21),
        (("cues", 1, "says"), 24),
        (("cues", 1, "area", "name"), 26),
    ],
)
def test_every_key_has_the_line_it_stands_on(path: tuple[str | int, ...], line: int) -> None:
    """Constructed: lines counted by eye in the text above."""
    assert document(TEXT).line(path) == line


def test_a_missing_key_has_the_line_of_its_table() -> None:
    assert document(TEXT).line(("place", "position")) == 4
    assert document(TEXT).line(("weather", "winds", 1, "height", "deeper")) == 12
    assert document(TEXT).line(("ship", "name")) == 0


def test_windows_line_ends_change_no_line() -> None:
    plain, windows = document(TEXT), document(TEXT.replace("\n", "\r\n"))
    assert windows.data == plain.data
    assert windows.line(("cues", 1, "area", "name")) == 26


def test_lines_are_looked_up_once_for_many_complaints(monkeypatch: pytest.MonkeyPatch) -> None:
    """A file with hundreds of faults was walked once for each of them."""
    walks: list[str] = []
    walk = documents._lines

    def counted(text: str) -> dict[tuple[str | int, ...], int]:
        walks.append(text)
        return walk(text)

    monkeypatch.setattr(documents, "_lines", counted)
    found = document(TEXT)
    assert walks == []
    assert [found.line(("place", "date")) for _ in range(50)] == [5] * 50
    assert len(walks) == 1


def test_paths_are_written_as_people_count() -> None:
    assert dotted(("weather", "winds", 1, "height")) == "weather.winds[2].height"
    assert dotted(("format",)) == "format"
    assert dotted(()) == ""


def test_values_are_shown_on_one_short_line() -> None:
    assert shown("30 kt") == '"30 kt"'
    assert shown(True) == "true"
    assert shown([1, 2]) == "[1, 2]"
    assert shown("two\nlines") == '"two lines"'
    assert shown("x" * 100) == '"' + "x" * 56 + "..."
    assert shown(16**5000) == "a very long number"
    assert one_line("bell\a and line\N{LINE SEPARATOR}end") == "bell  and line end"
    assert len(one_line("x" * 5000)) == documents.GREATEST_LENGTH


# What is no plan file at all


@pytest.mark.parametrize(
    ("text", "line", "limit", "stands"),
    [
        ("", 0, "the file is empty", ""),
        (" \n\t\n", 0, "the file is empty", ""),
        ("format = 1\nship = corbel\n", 2, "not TOML", "ship = corbel"),
        ("format = 1\nformat = 2\n", 2, "this stands in the file already", "format = 2"),
        ("[place]\n[place]\n", 2, "this stands in the file already", "[place]"),
        (
            "ship = \N{LEFT DOUBLE QUOTATION MARK}corbel\N{RIGHT DOUBLE QUOTATION MARK}\n",
            1,
            "curly quotation marks",
            "ship =",
        ),
        ("date = 17-03-1949\n", 1, "not a date", "date = 17-03-1949"),
        ("a = [\n", 1, "not TOML", "a = ["),
        ("a = [\n\n\n", 1, "not TOML", "a = ["),
        ("\n\n[ship\n", 3, "not TOML", "[ship"),
        ('a = "open\n', 1, "not TOML", 'a = "open'),
        ("a = 1\x0c\nb = 2\x0c", 1, "not TOML", "a = 1"),
        ("a = 1\rb = 2\r", 1, "not TOML", "a = 1 b = 2"),
        ("\N{LINE SEPARATOR}\n?\n", 1, "not TOML", ""),
        ("a = " + "9" * 5000, 0, "a number in it is too long to read", ""),
        ("[" * 100_000, 1, "not TOML", "[[["),
        ("a = " + "[" * 100_000, 0, "brackets are nested too deeply", ""),
        ("a = " + "[" * 100 + "]" * 100, 0, "brackets are nested too deeply", ""),
        ("a" + ".a" * 3000 + " = 1", 0, "brackets are nested too deeply", ""),
        ("[a" + ".a" * 3000 + "]\nb = 1", 0, "brackets are nested too deeply", ""),
    ],
)
def test_a_text_that_is_no_toml_is_one_complaint(text: str, line: int, limit: str, stands: str) -> None:
    """What exactly is wrong is in the words of the standard parser, which differ between versions of Python."""
    found = complaint(text)
    assert found.line == line
    assert found.limit.startswith(limit)
    assert stands in found.limit
    assert found.remedy
    assert "\n" not in str(found)


def test_a_missing_file_names_one_of_nearly_that_name(tmp_path: Path) -> None:
    (tmp_path / "evening.toml").write_text("format = 1\n")
    found = open_document(tmp_path / "evenin.toml")
    assert isinstance(found, Complaint)
    assert found.limit == "there is no such file"
    assert found.remedy == f"Did you mean {tmp_path / 'evening.toml'}"
    other = open_document(tmp_path / "no" / "such.toml")
    assert isinstance(other, Complaint)
    assert other.remedy == "Look at the name and the folder"


@pytest.mark.parametrize(
    ("raw", "line", "limit"),
    [
        (b'format = 1\ntitle = "caf\xe9"\n', 2, "the file is not UTF-8 text"),
        ("format = 1\n".encode("utf-16"), 1, "the file is not UTF-8 text"),
        ("format = 1\n".encode("utf-16-le"), 1, "not TOML"),
        (bytes(range(256)) * 40, 1, "the file is not UTF-8 text"),
        (b"\x00" * 500, 1, "not TOML"),
        (b"a" * 3_000_000, 0, "the file is larger than 2 MB"),
        (b"", 0, "the file is empty"),
        (b"\xef\xbb\xbf", 0, "the file is empty"),
    ],
    ids=["latin-1", "utf-16", "utf-16 without mark", "binary", "zeros", "3 MB", "empty", "only a mark"],
)  # fmt: skip
def test_a_file_that_is_no_text_is_one_complaint(tmp_path: Path, raw: bytes, line: int, limit: str) -> None:
    file = tmp_path / "day.toml"
    file.write_bytes(raw)
    found = open_document(file)
    assert isinstance(found, Complaint)
    # where the first wrong byte of a binary file stands depends on the line ends in it
    assert found.line == line or (limit.startswith("the file is not UTF-8") and found.line > 0)
    assert found.limit.startswith(limit)
    assert str(found).startswith(str(file))


def test_a_folder_is_no_plan_file(tmp_path: Path) -> None:
    found = open_document(tmp_path)
    assert isinstance(found, Complaint)
    assert found.limit == "this is a folder"


def test_a_file_that_cannot_be_opened_is_one_complaint(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "day.toml"
    file.write_text("format = 1\n")

    def locked(_: Path) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", locked)
    found = open_document(file)
    assert isinstance(found, Complaint)
    assert found.limit == "cannot be read: Permission denied"


def test_a_name_too_long_for_the_disk_is_one_complaint(tmp_path: Path) -> None:
    assert isinstance(open_document(tmp_path / ("x" * 5000 + ".toml")), Complaint)
    assert isinstance(open_document(tmp_path / "nul\0l.toml"), Complaint)


def test_a_byte_order_mark_does_not_matter(tmp_path: Path) -> None:
    file = tmp_path / "day.toml"
    file.write_bytes(b"\xef\xbb\xbfformat = 1\r\n[place]\r\n")
    found = open_document(file)
    assert isinstance(found, Document)
    assert found.data == {"format": 1, "place": {}}
    assert found.line(("place",)) == 2


@given(text=st.text(alphabet=st.sampled_from("ab.=[]{}\"',#\n\r\t 019-:\\é"), max_size=60))
@settings(max_examples=400, deadline=None)
def test_any_text_is_a_document_or_one_complaint(text: str) -> None:
    found = parse_document("day.toml", text)
    if isinstance(found, Document):
        for name in found.data:
            assert 0 < found.line((name,)) <= text.count("\n") + 1
    else:
        assert len(str(found).splitlines()) == 1
