"""The published record as data: every row is told with its source, mapped or explained, and names what exists."""

import shutil

import pytest
from validation.published import DATA, SiteKinds, load_published, load_settings

from swabwright.errors import SwabwrightError
from swabwright.plant.registry import load_catalogue

PUBLISHED = load_published()
KINDS = load_catalogue().site_types
TOLD = (*PUBLISHED.shares, *PUBLISHED.rounds)
SHARE = """
[[shares]]
id = "invented"
organism = "Listeria monocytogenes"
what = "an invented study"
share = 0.1
samples = 20
source = "invented for a test"
confirmed = false
"""
MAPPED = 'groups = ["drain"]\npresence_source = "invented"\n'


@pytest.fixture
def folder(tmp_path):
    for path in DATA.glob("*.toml"):
        shutil.copy(path, tmp_path)
    return tmp_path


def with_rows(folder, text, name="shares.toml"):
    with (folder / name).open("a") as file:
        file.write(text)
    return folder


def test_the_whole_record_is_there():
    assert (len(PUBLISHED.shares), len(PUBLISHED.rounds)) == (86, 26)


@pytest.mark.parametrize("row", TOLD, ids=lambda row: row.id)
def test_a_row_says_who_published_it_and_gives_no_address_of_a_company(row):
    assert len(row.source) > 10
    assert "http" not in row.source


@pytest.mark.parametrize("row", PUBLISHED.shares, ids=lambda row: row.id)
def test_a_share_agrees_with_its_counts(row):
    if row.detected is not None and not row.samples_assumed:
        assert row.share == pytest.approx(row.detected / row.samples, abs=2e-3)


@pytest.mark.parametrize("row", PUBLISHED.shares, ids=lambda row: row.id)
def test_only_other_species_are_a_ceiling(row):
    assert row.ceiling == (row.organism == "Listeria spp." and not row.no_counterpart)


def test_every_kind_of_site_that_a_row_names_is_in_the_catalogue():
    kinds = [share.kinds for share in PUBLISHED.shares] + [told.niche for told in PUBLISHED.rounds]
    groups = {group for kind in kinds for group in kind.groups} - {"all"}
    assert groups <= {kind.prevalence_group for kind in KINDS.values()}
    assert {name for kind in kinds for name in kind.types} <= set(KINDS)


def test_every_group_of_site_types_is_compared_with_some_study():
    named = {group for share in PUBLISHED.shares for group in share.groups}
    assert {kind.prevalence_group for kind in KINDS.values()} - named == set()


def test_what_is_not_modelled_is_listed_with_its_reason():
    other = [row for row in PUBLISHED.shares if not row.organism.startswith("Listeria")]
    assert len(other) == 24
    assert all("not modelled" in row.no_counterpart for row in other)


def test_a_contrast_is_of_one_study_and_the_first_share_is_higher():
    pairs = [(PUBLISHED.share(one.upper), PUBLISHED.share(one.lower)) for one in PUBLISHED.contrasts]
    assert all(upper.source == lower.source and upper.share > lower.share for upper, lower in pairs)


def test_a_row_neither_mapped_nor_explained_is_refused_by_file_and_number(folder):
    with pytest.raises(SwabwrightError, match=r"shares\.86: .*name groups, types or zones"):
        load_published(with_rows(folder, SHARE))


def test_a_row_both_mapped_and_explained_is_refused(folder):
    with pytest.raises(SwabwrightError, match="not both"):
        load_published(with_rows(folder, SHARE + MAPPED + 'no_counterpart = "none"\n'))


def test_a_mapped_row_is_taken(folder):
    assert load_published(with_rows(folder, SHARE + MAPPED)).share("invented").kinds == SiteKinds(groups=("drain",))


@pytest.mark.parametrize(
    ("name", "text", "fault"),
    [
        ("shares.toml", SHARE.replace("invented", "sf4_all") + MAPPED, "the same id"),
        ("shares.toml", '[[contrasts]]\nid = "a"\nupper = "sf4_all"\nlower = "nowhere"\n', "no row is called nowhere"),
        ("reasons.toml", '[[reasons]]\nid = "a"\nwhy = "because it is so, invented"\nrows = ["lost"]\n', "called lost"),
        ("shares.toml", SHARE + MAPPED + "colour = 1\n", "colour: Extra inputs"),
    ],
)
def test_a_row_that_contradicts_the_rest_is_refused(folder, name, text, fault):
    with pytest.raises(SwabwrightError, match=fault):
        load_published(with_rows(folder, text, name))


def test_a_count_without_its_samples_is_refused(folder):
    told = (
        '[[rounds]]\nid = "a"\nwhat = "b"\norganism = "c"\ntold = "said so"\nsource = "invented"\nconfirmed = false\n'
    )
    with pytest.raises(SwabwrightError, match="needs both counts"):
        load_published(with_rows(folder, told + 'detected = 3\ncompares = ["count"]\n', "investigations.toml"))


def test_the_settings_are_enough_for_a_range_over_plants():
    assert load_settings().plants >= 20
    assert load_settings().studies >= 1000
