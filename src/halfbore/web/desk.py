"""What all pages of one workspace share."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from halfbore import limits, store
from halfbore.catalogue.coverage import coverage
from halfbore.domain.coverage import Coverage
from halfbore.domain.user import Role, User
from halfbore.domain.workspace import Address, KeptCatalogue
from halfbore.errors import InputError, Problem, shown
from halfbore.store import Place, Workspace
from halfbore.study import Stage
from halfbore.web.drafts import CatalogueDraft, Drafts, SurveyDraft
from halfbore.web.runs import Beside, issues, runs
from halfbore.workspace.catalogues import catalogue_of
from halfbore.workspace.issuing import Wanted
from halfbore.workspace.live import Studies
from halfbore.workspace.overview import Overview

ONLY = "-"
KEPT = (
    f"Uploads are kept in the workspace until they are all brought in or forgotten: up to {limits.UPLOADS} and "
    f"{limits.UPLOADS_SIZE / 1e6:.0f} MB together, the oldest go first; each for {limits.UPLOAD_DAYS} days after it was "
    "changed last."
)
"""What a person is told of uploads."""


class UnknownError(InputError):
    """There is nothing at this address."""

    kind = "unknown"
    status = 404


@dataclass
class Desk:
    """An open workspace with what is kept at hand of it; who, role: in whose name edits are made, and what that one may.

    studies, orders, whole: shaft lines as far as the choice, the order, the value; runs, issues: work beside the pages.
    """

    workspace: Workspace
    who: str
    overview: Overview
    studies: Studies
    orders: Studies
    whole: Studies
    runs: Beside[Address]
    issues: Beside[Wanted]
    drafts: Drafts
    coverages: dict[int, Coverage] = field(default_factory=dict)
    role: Role = Role.APPROVE

    @classmethod
    def at(cls, path: Place, who: str) -> Desk:
        """Open a workspace. Raises WorkspaceError."""
        workspace = store.open(path)
        select, order, value = (Studies(workspace, upto) for upto in (Stage.SELECT, Stage.ORDER, Stage.VALUE))
        return cls(
            workspace,
            who,
            Overview(workspace),
            select,
            order,
            value,
            runs(path),
            issues(path),
            Drafts(workspace.uploads),
        )

    def of(self, user: User) -> Desk:
        """Return the same desk as a user sits at it."""
        return replace(self, who=user.name, role=user.role, drafts=self.drafts.of(user.id))

    def close(self) -> None:
        """Stop what runs, and give the file back."""
        self.runs.close()
        self.issues.close()
        self.workspace.close()

    def line(self, machine: str, line: str) -> Address:
        """Return the address of a shaft line. Raises UnknownError."""
        for state in self.overview.machines():
            if state.tag == machine:
                tags = [one.address[1] for one in state.lines]
                if line in tags:
                    return (machine, line)
                if line == ONLY and "" in tags:
                    return (machine, "")
        raise UnknownError(Problem("there is no such shaft line", "address", shown(f"{machine} {line}")))

    def position(self, tag: str) -> Address:
        """Return the address of a position. Raises UnknownError."""
        found = [address for address in self.workspace.find(tag) if len(address) == 3]
        if len(found) != 1:
            raise UnknownError(Problem("there is no such position", "address", shown(tag)))
        return found[0]

    def coverage(self, kept: KeptCatalogue) -> Coverage:
        """Return what a version of a catalogue covers; what is kept of one never changes."""
        if kept.id not in self.coverages:
            self.coverages[kept.id] = coverage(catalogue_of(self.workspace, kept))
        return self.coverages[kept.id]

    def survey(self, key: str) -> SurveyDraft:
        """Return a survey that was uploaded. Raises UnknownError."""
        found = self.drafts.find(key)
        if not isinstance(found, SurveyDraft):
            raise _gone()
        return found

    def catalogue(self, key: str) -> CatalogueDraft:
        """Return a catalogue that was uploaded. Raises UnknownError."""
        found = self.drafts.find(key)
        if not isinstance(found, CatalogueDraft):
            raise _gone()
        return found


def _gone() -> UnknownError:
    step = f"upload the file again where it is needed; what is brought in stays. {KEPT}"
    return UnknownError(Problem("there is no such upload any more", "address", next_step=step))
