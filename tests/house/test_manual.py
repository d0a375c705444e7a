"""The manual and the readme hold together: links lead somewhere, every page can be found."""

import re

import pytest
from builders.house import ROOT, tracked_files

import manual

PAGES = [path for path in tracked_files() if path.suffix == ".md"]
LINK = re.compile(r"\]\((?!\w+:)([^)#\s]+)")


def dead_links(page):
    return [link for link in LINK.findall(page.read_text("utf-8")) if not (page.parent / link).exists()]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_leads_to_a_file(page):
    assert dead_links(page) == []


def test_the_contents_name_every_page_of_the_manual():
    docs = ROOT / "docs"
    listed = set(LINK.findall((docs / "index.md").read_text("utf-8")))
    assert {str(page.relative_to(docs)) for page in PAGES if docs in page.parents} - {"index.md"} <= listed


def test_the_manual_links_its_pages_to_each_other(tmp_path):
    (tmp_path / "docs" / "howto").mkdir(parents=True)
    (tmp_path / "docs" / "index.md").write_text("# Contents\n\n[Walk](howto/walk.md#drains)\n")
    (tmp_path / "docs" / "howto" / "walk.md").write_text("# Walk <it>\n\n| a | b |\n| - | - |\n| 1 | 2 |\n")
    first = manual.build(tmp_path / "docs", tmp_path / "out").read_text()
    assert 'href="howto/walk.html#drains"' in first
    assert "Walk &lt;it&gt;" in first


def test_a_page_of_the_manual_finds_its_style_from_its_folder(tmp_path):
    (tmp_path / "docs" / "howto").mkdir(parents=True)
    (tmp_path / "docs" / "howto" / "walk.md").write_text("# Walk\n\n| a | b |\n| - | - |\n| 1 | 2 |\n")
    manual.build(tmp_path / "docs", tmp_path / "out")
    page = (tmp_path / "out" / "howto" / "walk.html").read_text()
    assert 'href="../manual.css"' in page
    assert "<td>1</td>" in page


def test_the_manual_carries_its_pictures_and_schemas(tmp_path):
    (tmp_path / "docs" / "reference").mkdir(parents=True)
    (tmp_path / "docs" / "reference" / "plant.schema.json").write_text("{}")
    manual.build(tmp_path / "docs", tmp_path / "out")
    assert (tmp_path / "out" / "reference" / "plant.schema.json").read_text() == "{}"
