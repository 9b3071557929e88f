"""The demo plant in a folder: the survey as it came, what was mended, two catalogues, and the workspace of it all."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from halfbore import store
from halfbore.demo import plant, survey
from halfbore.demo.suppliers import write_catalogues
from halfbore.intake.survey.mapping import read_mapping_file
from halfbore.workspace.catalogues import import_catalogue
from halfbore.workspace.survey import SurveyImport, import_survey, import_told

WORKSPACE = "ostrindale.halfbore"
CATALOGUES = "catalogues"
WHO = "demo (invented)"


@dataclass(frozen=True)
class DemoPlant:
    """Where the demo plant stands, and what came of bringing it in."""

    workspace: Path
    survey: Path
    mapping: Path
    first: SurveyImport
    mended: Path
    second: SurveyImport
    catalogues: tuple[Path, ...]


def make(folder: Path) -> DemoPlant:
    """Make the demo plant as its engineer would: office figures, survey, rejected rows mended, catalogues.

    folder: is there, and holds no workspace of this name. Raises InputError where it cannot be written.
    """
    (folder / CATALOGUES).mkdir(exist_ok=True)
    mappings = write_catalogues(folder / CATALOGUES)
    surveyed, mapping = survey.write_survey(folder)
    with store.create(folder / WORKSPACE, plant.NAME) as workspace:
        import_told(workspace, survey.office(), WHO, "figures of the office", survey.OFFICE)
        first = import_survey(workspace, surveyed, mapping, WHO)
        mended = folder / survey.MENDED
        survey.write_mended(mended, first.reading, read_mapping_file(mapping))
        second = import_survey(workspace, mended, mapping, WHO)
        for catalogue in mappings:
            import_catalogue(workspace, catalogue)
    return DemoPlant(folder / WORKSPACE, surveyed, mapping, first, mended, second, mappings)
