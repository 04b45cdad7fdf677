"""The papers for a helper: what stands on the pages of a PDF (read by pypdf) and in the HTML, whatever the names."""

from __future__ import annotations

import re
import sys
from html.parser import HTMLParser
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.cli.conftest import ROOM, Rackround
from tui.cli.out import STEERING

AWAY = ("leave", "--from", "2026-11-27", "--to", "2026-12-06", "--helper", "Aunt Ida")
NAMES = (
    "<script>alert('x')</script>",
    "{{ 7 * 7 }} {% raw %}",
    "[bold red]Upper[/]",
    "חדר למעלה",
    "حوض علوي",
    "水槽の上段",
    "Аквариум №1",
    "ตู้ปลา",
    "\U0001f990 shrimp & <co>",
    "W" * 200,
)
MM = 72 / 25.4
TAGS = {
    *("html", "head", "meta", "title", "style", "body", "section", "h1", "h2", "p", "b", "div", "ol", "ul", "li"),
    *("table", "tr", "th", "td", "bdi", "small", "br", "span"),
}


class _Tags(HTMLParser):
    """The tags and the text of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.text = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:  # noqa: ARG002
        self.tags.add(tag)

    def handle_data(self, data: str) -> None:
        self.text += data


@pytest.fixture(autouse=True)
def _past(rackround: Rackround) -> None:
    for tank in ("a1", "a2"):
        for feed in ("dust", "flake"):
            assert rackround("give", tank, feed, "--on", "2026-11-24", "--anyway").code == 0


def named(room: Path, name: str) -> None:
    """Call the room, a keeper, a feed, the rack and a tank by a name."""
    text = ROOM
    for old in ("Two shelves", "Mara", "Fine dust", "Left rack", "Upper [left] one"):
        text = text.replace(f'"{old}"', f"'''{name}'''", 1)
    room.write_text(text.replace('name = "Ole"\n', 'name = "Ole"\nphone = "+43 660 1234567"\n'), encoding="utf-8")


def pages(path: Path) -> list[str]:
    return [page.extract_text() for page in PdfReader(path).pages]


def letters(text: str) -> str:
    return re.sub(r"\s", "", text)


def test_the_sheet_says_what_each_tank_gets_on_each_visit(rackround: Rackround, room: Path, tmp_path: Path) -> None:
    named(room, "Plain name")
    path = tmp_path / "sheet.pdf"
    visits = rackround(*AWAY, "--json", "--sheet", str(path)).data["visits"]

    first, rack = pages(path)

    assert "feeding for Aunt Ida" in first
    for text in (first, rack):
        assert "+43 660 1234567" in text
        assert "Never give anything that is not on the sheet" in text.replace("\n", " ")
    lines = rack.split("\n")
    for tank in ("a1", "a2"):
        assert tank in lines
    dust = sum(each["feed"] == "dust" for day in visits for each in day["servings"])
    flake = sum(each["feed"] == "flake" for day in visits for each in day["servings"])
    assert (rack.count(" mL"), rack.count("Pressed flake")) == (dust, flake)
    assert len(re.findall(r"\d (Nov|Dec)", rack)) == len(visits)


def test_labels_say_where_a_cup_belongs_and_who_gets_what_of_it(
    rackround: Rackround, room: Path, tmp_path: Path
) -> None:
    named(room, "Plain name")
    path = tmp_path / "labels.pdf"
    visits = rackround(*AWAY, "--json", "--labels", str(path)).data["visits"]

    text = "\n".join(pages(path))

    assert text.count("fill up to") == len(visits)
    assert text.count("give dry, as it is") == sum(
        any(each["feed"] == "flake" for each in day["servings"]) for day in visits
    )
    assert re.search(r"a1 [\d.]+ mL", text)


def test_a_label_names_rack_day_feed_strength_and_people(rackround: Rackround, tmp_path: Path) -> None:
    path = tmp_path / "labels.pdf"
    visits = rackround(*AWAY, "--by", "Mara", "--json", "--labels", str(path)).data["visits"]
    text = "\n".join(pages(path))

    labels = sum(len({each["feed"] for each in day["servings"]}) for day in visits)
    assert text.count("Mara for Aunt Ida") == text.count("Left rack") == labels
    for mg, ml, strength in re.findall(r"(\d+) mg: fill up to ([\d.]+) mL, shake.*?([\d.]+) mg/mL", text, re.DOTALL):
        assert float(mg) / float(ml) == pytest.approx(float(strength), rel=0.01)
    assert text.count("mg/mL") == text.count("fill up to") > 0


def test_the_sheet_and_labels_name_the_round_where_a_day_has_several(
    rackround: Rackround, room: Path, tmp_path: Path
) -> None:
    walks = "[[rounds]]\nid = 'morning'\nat = 07:00:00\n\n[[rounds]]\nid = 'evening'\nat = 19:00:00\n\n[[racks]]"
    text = room.read_text("utf-8").replace('id = "flake"', 'id = "flake"\nround = "evening"')
    room.write_text(text.replace("[[racks]]", walks, 1), encoding="utf-8")
    sheet, html, labels = (tmp_path / name for name in ("sheet.pdf", "sheet.html", "labels.pdf"))
    visits = rackround(*AWAY, "--json", "--sheet", str(sheet), "--labels", str(labels)).data["visits"]
    rackround(*AWAY, "--sheet", str(html))

    both = [day for day in visits if len({each["round"] for each in day["servings"]}) == 2]
    evenings = sum(each["round"] == "evening" for day in both for each in day["servings"])
    mornings = sum(each["round"] == "morning" for day in both for each in day["servings"])
    assert both and len(both) < len(visits)
    page = html.read_text("utf-8")
    assert (page.count("evening: Pressed flake"), page.count("morning: Fine dust")) == (evenings, mornings)
    assert "".join(pages(sheet)).count("evening: ") == evenings
    assert "".join(pages(labels)).count("· evening ·") == len(both)


@pytest.mark.parametrize(("paper", "size"), [("a4", (297, 210)), ("letter", (279.4, 215.9))])
def test_pages_are_of_the_paper_asked_for(
    rackround: Rackround, tmp_path: Path, paper: str, size: tuple[float, float]
) -> None:
    """Sizes: ISO 216 for A4; ANSI/ASME Y14.1 for Letter (8.5 by 11 inches)."""
    path = tmp_path / "sheet.pdf"
    assert rackround(*AWAY, "--paper", paper, "--sheet", str(path)).code == 0

    box = PdfReader(path).pages[1].mediabox

    assert (float(box.width) / MM, float(box.height) / MM) == pytest.approx(size, abs=0.2)


@pytest.mark.parametrize("name", NAMES)
def test_any_name_survives_on_paper(rackround: Rackround, room: Path, tmp_path: Path, name: str) -> None:
    named(room, name)
    sheet, labels = tmp_path / "sheet.pdf", tmp_path / "labels.pdf"

    answer = rackround(*AWAY, "--sheet", str(sheet), "--labels", str(labels))

    assert (answer.code, answer.err) == (0, "")
    text = letters("".join(pages(sheet)))
    assert "a1" in text
    if name.isascii() and len(name) < 100:
        assert letters(name) in text
    elif "水" in name:
        assert "[U+6C34]" in text
    elif "Аквариум" in name:
        assert letters(name) in text


@pytest.mark.parametrize("name", NAMES)
def test_no_name_is_markup_in_the_html(rackround: Rackround, room: Path, tmp_path: Path, name: str) -> None:
    named(room, name)
    path = tmp_path / "sheet.html"
    assert rackround(*AWAY, "--sheet", str(path)).code == 0
    page = _Tags()
    page.feed(path.read_text(encoding="utf-8"))

    assert page.tags <= TAGS
    assert name in page.text


def test_a_helpers_name_cannot_steer_the_page(rackround: Rackround, tmp_path: Path) -> None:
    words = [*AWAY[:-1], "Ida\u202e\u0007<b>"]
    for name in ("sheet.pdf", "sheet.html"):
        assert rackround(*words, "--sheet", str(tmp_path / name)).code == 0
    html = (tmp_path / "sheet.html").read_text(encoding="utf-8")

    assert "Ida &lt;b&gt;" in html
    assert not STEERING.search(html.replace("\n", ""))
    assert "Ida <b>" in pages(tmp_path / "sheet.pdf")[0]


@pytest.mark.parametrize(
    ("module", "file"), [("fpdf", "sheet.pdf"), ("jinja2", "sheet.html"), ("pymupdf_fonts", "sheet.pdf")]
)
def test_without_the_extra_one_line_says_what_to_install(
    rackround: Rackround, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, module: str, file: str
) -> None:
    for name in [name for name in sys.modules if name.startswith("tui.cli.paper")]:
        monkeypatch.delitem(sys.modules, name)
    monkeypatch.setitem(sys.modules, module, None)

    answer = rackround(*AWAY, "--sheet", str(tmp_path / file))

    assert answer.code == 2
    assert "pip install 'rackround[paper]'" in answer.err
    assert answer.err.count("\n") == 1
    assert not (tmp_path / file).exists()
