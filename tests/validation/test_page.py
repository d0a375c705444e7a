"""The committed page shows every row of the record, was written from these data, and gives reasons for misfits."""

from builders.house import ROOT
from validation.page import PAGE, fingerprint
from validation.published import load_published
from validation.tables import in_100, wrapped

PUBLISHED = load_published()
TEXT = PAGE.read_text("utf-8")
LINES = {line.split("|")[1].strip(" `"): line for line in reversed(TEXT.splitlines()) if line.startswith("| `")}
OUTSIDE = ("predicted lower", "predicted higher", "the other way")


def test_the_page_was_written_from_the_data_as_they_stand():
    assert f"`{fingerprint()}`" in TEXT


def test_every_row_of_the_record_is_on_the_page():
    rows = {row.id for row in (*PUBLISHED.shares, *PUBLISHED.contrasts, *PUBLISHED.rounds)}
    assert rows <= set(LINES)


def test_the_page_prints_the_published_shares():
    assert [share.id for share in PUBLISHED.shares if f" {in_100(share.share)} |" not in LINES[share.id]] == []


def test_every_row_outside_its_range_gives_a_reason_that_the_page_explains():
    outside = [line.split("|") for line in LINES.values() if any(words in line for words in OUTSIDE)]
    reasons = {reason.id.replace("_", " ") for reason in PUBLISHED.reasons}
    assert len(outside) > 30
    assert all(set(cells[-2].strip().split(", ")) <= reasons for cells in outside)


def test_every_reason_has_its_paragraph():
    assert all(wrapped(reason.why) in TEXT for reason in PUBLISHED.reasons)


def test_a_fingerprint_changes_with_the_data(tmp_path):
    (tmp_path / "shares.toml").write_text("a = 1\n")
    before = fingerprint(tmp_path)
    (tmp_path / "shares.toml").write_text("a = 2\n")
    assert fingerprint(tmp_path) != before


def test_the_contents_of_the_manual_name_the_page():
    assert str(PAGE.relative_to(ROOT / "docs")) in (ROOT / "docs" / "index.md").read_text("utf-8")
