"""Views that the templates of pages and of sheets print: prose and conditions of steps, cautions in order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from markupsafe import Markup

from handouts.model import Call, Caution, CautionKind, Programme, Section
from handouts.publication.rich_text import rich, rich_all
from handouts.publication.steps import make_conditions
from handouts.words.wording import Wording


@dataclass(frozen=True, slots=True)
class BlockView:
    """A block of prose; ``kind`` is steps, bullets or paragraph."""

    kind: str
    items: tuple[Markup, ...]


@dataclass(frozen=True, slots=True)
class SectionView:
    """A heading with its blocks."""

    heading: Markup
    blocks: tuple[BlockView, ...]

    @property
    def look(self) -> str:
        """``run-in`` where on paper the text may follow its heading on the same line."""
        return "run-in" if self.blocks and self.blocks[0].kind == "paragraph" else ""


@dataclass(frozen=True, slots=True)
class ConditionView:
    """A condition of a step under its label."""

    label: str
    text: Markup


def view_sections(sections: Sequence[Section]) -> tuple[SectionView, ...]:
    """Prose with headings."""
    return tuple(
        SectionView(rich(each.heading), tuple(BlockView(block.kind, rich_all(block.items)) for block in each.blocks))
        for each in sections
    )


def view_conditions(wording: Wording, programme: Programme, rank: int) -> tuple[ConditionView, ...]:
    """The conditions of a step, counted from 0."""
    return tuple(ConditionView(each.label, rich(each.words)) for each in make_conditions(wording, programme, rank))


def cautions_by_kind(cautions: Iterable[Caution]) -> Mapping[CautionKind, tuple[Caution, ...]]:
    """Cautions by what they ask of the reader, stop rules first; in each kind those that call the emergency number come first."""
    found = sorted(cautions, key=lambda caution: caution.call is not Call.EMERGENCY)
    kinds = (CautionKind.STOP, CautionKind.ASK, CautionKind.CARE)
    return {kind: tuple(each for each in found if each.kind is kind) for kind in kinds}
