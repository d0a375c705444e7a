"""The command and its use case: documents written whole or not at all, identities kept."""

import json

import pytest
from builders.drawings import SITES, two_rooms, write_xlsx
from click.testing import CliRunner

from swabwright.cli.plant_commands import plant
from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.plant.reading import read_plant
from swabwright.plant.registry import load_catalogue
from swabwright.work.import_plant import ImportRequest, import_files


@pytest.fixture
def files(tmp_path):
    """A site list and a drawing."""
    return write_xlsx(tmp_path / "sites.xlsx", {"Sites": SITES}), two_rooms().save(tmp_path / "floor.dxf")


def _run(files, *options):
    sites, drawing = files
    return CliRunner().invoke(plant, ["import", str(sites), "--drawing", str(drawing), *map(str, options)])


def test_the_document_that_is_written_reads_back(files, tmp_path):
    result = _run(files, "--out", tmp_path / "case" / "plant.json")
    text = (tmp_path / "case" / "plant.json").read_text(encoding="utf-8")
    assert result.exit_code == 0
    assert [site.code for site in read_plant(text, load_catalogue()).sites] == ["S001", "S002", "S003"]


def test_guesses_defaults_and_counts_are_printed_in_sentences(files, tmp_path):
    output = _run(files, "--out", tmp_path / "plant.json").output
    assert "sheet 'Sites', column A 'Code' is code (score 100)" in output
    assert "cleanings: no sheet of cleaning; one full cleaning of everything" in output
    assert "floor: 2 rooms, 2 doors, 1 machine, 1 line and 3 sites." in output
    assert "values are not confirmed by anybody" in output


def test_a_refused_import_writes_nothing_and_leaves_the_old_document(files, tmp_path):
    write_xlsx(files[0], {"Sites": [*SITES, SITES[1]]})
    (tmp_path / "plant.json").write_text("the old one", encoding="utf-8")
    result = _run(files, "--out", tmp_path / "plant.json")
    assert isinstance(result.exception, DocumentRefused)
    assert "plant import: sheet 'Sites', row 5: code 'S001' stands in row 2 too" in str(result.exception)
    assert (tmp_path / "plant.json").read_text(encoding="utf-8") == "the old one"


def test_a_refused_import_still_writes_the_mapping_draft_to_correct(files, tmp_path):
    write_xlsx(files[0], {"Sites": [*SITES, ["S009", "x", "Xylophone", "Slicing", 3, 5]]})
    result = _run(files, "--out", tmp_path / "plant.json", "--mapping-draft", tmp_path / "mapping.toml")
    assert result.exit_code != 0
    assert '"? ' in (tmp_path / "mapping.toml").read_text(encoding="utf-8")
    assert not (tmp_path / "plant.json").exists()


def test_the_corrected_draft_imports(files, tmp_path):
    write_xlsx(files[0], {"Sites": [*SITES, ["S009", "x", "Xylophone", "Slicing", 3, 5]]})
    draft = tmp_path / "mapping.toml"
    _run(files, "--out", tmp_path / "plant.json", "--mapping-draft", draft)
    lines = draft.read_text(encoding="utf-8").splitlines()
    answered = ['Xylophone = "leave out"' if line.startswith("Xylophone") else line for line in lines]
    draft.write_text("\n".join(answered), encoding="utf-8")
    assert _run(files, "--out", tmp_path / "plant.json", "--mapping", draft).exit_code == 0


def test_a_second_import_keeps_identities_by_code_when_told_to(files, tmp_path):
    _run(files, "--out", tmp_path / "first.json")
    write_xlsx(files[0], {"Sites": [SITES[0], SITES[3], ["S004", "New", "Floor drain", "Slicing", 3, 5], SITES[1]]})
    _run(files, "--out", tmp_path / "second.json", "--keep-keys", tmp_path / "first.json")
    first, second = (
        json.loads((tmp_path / name).read_text("utf-8"))["sites"] for name in ("first.json", "second.json")
    )
    before, after = ({site["code"]: site["key"] for site in sites} for sites in (first, second))
    assert {code: after[code] for code in ("S001", "S003")} == {code: before[code] for code in ("S001", "S003")}
    assert after["S004"] not in before.values()


def test_without_being_told_every_import_makes_fresh_identities(files, tmp_path):
    keys = []
    for name in ("first.json", "second.json"):
        _run(files, "--out", tmp_path / name)
        keys += [site["key"] for site in json.loads((tmp_path / name).read_text("utf-8"))["sites"]]
    assert len(set(keys)) == 6


def test_identities_of_a_document_that_is_not_there_are_refused(files, tmp_path):
    request = ImportRequest(*files, out=tmp_path / "plant.json", keep_keys=tmp_path / "gone.json")
    with pytest.raises(SwabwrightError, match=r"gone\.json: there is no such plant document"):
        import_files(request, load_catalogue())


def test_further_files_add_their_sheets(files, tmp_path):
    rows = [["Line", "Product", "Machines in order"], ["Line 1", "Ham", "Slicer A"]]
    further = write_xlsx(tmp_path / "more.xlsx", {"Lines": rows})
    _run(files, "--out", tmp_path / "plant.json", "--lines", further)
    assert json.loads((tmp_path / "plant.json").read_text("utf-8"))["lines"][0]["product"] == "Ham"


def test_the_same_files_give_the_same_document_but_for_the_keys(files, tmp_path):
    documents = []
    for name in ("first.json", "second.json"):
        _run(files, "--out", tmp_path / name)
        document = json.loads((tmp_path / name).read_text("utf-8"))
        documents.append({**document, "sites": [{**site, "key": ""} for site in document["sites"]]})
    assert documents[0] == documents[1]
