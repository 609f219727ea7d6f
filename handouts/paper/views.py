"""What the templates of the paper room print: frozen values of ready strings, nothing to decide."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from markupsafe import Markup

from handouts.dose.facts import DoseNumber
from handouts.model import CautionKind
from handouts.paper.geometry import Area
from handouts.publication.views import ConditionView, SectionView


@dataclass(frozen=True, slots=True)
class RulesLine:
    """The line above the foot, where there is more than one page: where the stop rules stand, around the page's number; whom to call and to ask."""

    before_page: str
    after_page: str
    always: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PageView:
    """What every page of a document carries: head, foot, language and the classes for paper and type size."""

    language: str
    direction: str
    title: str
    """Title of the document, for the reader's window and the list of files."""
    author: str
    size: str
    """Classes of a document: its type size; ``halves`` where two pages stand on a sheet that is folded."""
    classes: str
    """Of a browser's page: type size and paper."""
    clinic: str
    head_look: str
    """Classes of the head: ``apart`` where the line for the pen stands under the clinic's name."""
    patient: str
    date: str
    """What stands before the lines for the pen, on the first page of what is handed out."""
    locations: tuple[str, ...]
    version: str
    page_before: str
    page_between: str
    page_after: str
    accent: str
    area: Area
    marks: tuple[str, ...]
    """Invented library, translation not reviewed."""
    fonts: str = ""
    """The style element of fonts that the library brings."""
    rules: tuple[RulesLine, ...] = ()
    """What stands above the foot of every page of a booklet, and of a sheet of more than one page; else none."""


@dataclass(frozen=True, slots=True)
class PairView:
    """What you see or feel, and what to do."""

    see: Markup
    do: Markup
    numbers: str = ""
    """Before it: the exercises that it goes for, where several stand on a page and it does not go for all."""


@dataclass(frozen=True, slots=True)
class CautionsView:
    """Cautions of one kind under their heading; ``kind`` is stop, ask or care."""

    kind: str
    heading: str
    calls: tuple[str, ...]
    """Phone numbers beside the heading: of the first group only."""
    rows: tuple[PairView, ...]


@dataclass(frozen=True, slots=True)
class SafetyView:
    """The ruled block: stop rules first, then ask and care, whom to call."""

    groups: tuple[CautionsView, ...]
    pain_heading: str
    pain: Markup
    """The clinic's rule about pain."""
    scale: tuple[tuple[str, str], ...]
    """The scale of pain from 0 to 10: a class for what the rule says of each number, and the number; empty where the clinic gives no bounds."""
    defer: tuple[Markup, ...]
    look: str = "safety"
    """Classes: ``safety`` alone is the ruled block; ``safety quiet`` what an exercise says where the stop rules stand elsewhere."""

    @property
    def stops(self) -> SafetyView:
        """The stop rules alone."""
        return self._part(stops=True)

    @property
    def others(self) -> SafetyView:
        """All that stands beside them."""
        return self._part(stops=False)

    def _part(self, *, stops: bool) -> SafetyView:
        return replace(self, groups=tuple(group for group in self.groups if (group.kind == CautionKind.STOP.value) == stops))


@dataclass(frozen=True, slots=True)
class WayView:
    """What is easier, or what is harder, with its heading."""

    way: str
    """``easier`` or ``harder``."""
    heading: str
    text: Markup


@dataclass(frozen=True, slots=True)
class TickCell:
    """Empty boxes: the class of each."""

    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TickRow:
    """A row of the table to tick."""

    name: str
    cells: tuple[TickCell, ...]


@dataclass(frozen=True, slots=True)
class TicksView:
    """A table of boxes to tick: ``heads`` of its columns; ``corner`` heads the names of the rows, where they have any."""

    heading: str
    corner: str
    heads: tuple[str, ...]
    rows: tuple[TickRow, ...]


@dataclass(frozen=True, slots=True)
class CodeView:
    """A QR code, what it is for, and the letters below it that open the same; empty where these stand in the text or the foot alone."""

    svg: Markup
    line: str
    letters: str = ""


@dataclass(frozen=True, slots=True)
class Labels:
    """The headings of an exercise, in its language."""

    dose: str
    mistakes: str
    cues: str
    feel: str
    ready: str
    notes: str


@dataclass(frozen=True, slots=True)
class ExerciseView:
    """One exercise on paper.  ``level`` and ``sublevel`` are the names of its heading elements.

    On paper an exercise knows no document: its headings begin at level 1, and a document moves them down.
    """

    anchor: str
    fit: str
    """Class for its sizes of type; its spacing is chosen when it is set."""
    two_pages: bool
    """Large type: figure, dose and steps on one page, the rest on the next."""
    level: str
    sublevel: str
    kicker: str
    title: Markup
    older: str
    """That the text stands as it was; empty where it is the present one."""
    why: Markup
    needs: str
    figure: Markup
    facts: tuple[DoseNumber, ...]
    under_dose: tuple[str, ...]
    stages_label: str
    stages: tuple[str, ...]
    """How the dose goes on over the weeks, each line with a box to tick."""
    sections: tuple[SectionView, ...]
    mistakes: tuple[PairView, ...]
    fault: tuple[Markup, ...] = field(default=(), kw_only=True)
    """The picture of the first mistake, where it has one; it gives way where the sheet lacks room."""
    cues: tuple[Markup, ...]
    feel: Markup
    ready: Markup
    ways: tuple[WayView, ...]
    safety: SafetyView
    ticks: tuple[TicksView, ...]
    """The table that stands at the foot of a sheet's last page; a booklet's tables stand at its front."""
    code: CodeView
    review: str
    labels: Labels
    beside: int = 0
    """How many of cues, feel and mistakes stand beside the figure, below the steps."""
    figure_note: tuple[str, ...] = ()
    """What the signs in the figure mean, or that there is none; empty where it has no signs."""

    @property
    def stop_anchor(self) -> str:
        """Id of its stop rules; empty where they stand elsewhere in the document."""
        return f"{self.anchor}--stop" if self.safety.look == "safety" else ""

    @property
    def cues_beside(self) -> bool:
        """Whether what to think of stands beside the figure."""
        return self.beside > 0

    @property
    def feel_beside(self) -> bool:
        """Whether what one should feel does."""
        return self.beside > 1

    @property
    def mistakes_beside(self) -> bool:
        """Whether what goes wrong does."""
        return self.beside > 2


@dataclass(frozen=True, slots=True)
class EntryView:
    """An exercise in a list or on a step of the stair: number, small figure, title and one line."""

    anchor: str
    number: str
    title: Markup
    line: str
    """Its dose in a list; what it builds on, on the stair."""
    figure: Markup


@dataclass(frozen=True, slots=True)
class CoverStep:
    """A step of the programme as a step of the stair on the cover."""

    look: str
    """Classes for how far up the step lies (``step-0`` is the lowest) and how many exercises stand on it."""
    heading: str
    conditions: tuple[ConditionView, ...]
    entries: tuple[EntryView, ...]


@dataclass(frozen=True, slots=True)
class GroupView:
    """Exercises that follow one another in a booklet: a step, or a whole bundle."""

    anchor: str
    fit: str
    opening: bool
    """Whether its name and conditions stand above its first exercise; the only group of a booklet is opened by its cover."""
    heading: str
    means: Markup
    conditions: tuple[ConditionView, ...]
    entries: tuple[EntryView, ...]
    list_heading: str
    ticks: tuple[TicksView, ...]
    exercises: tuple[ExerciseView, ...]


@dataclass(frozen=True, slots=True)
class ContentsLine:
    """A line of the table of contents."""

    href: str
    text: str
    look: str


@dataclass(frozen=True, slots=True)
class BookletView:
    """A booklet: its cover, what stands at the front, and its exercises in groups."""

    fit: str
    title: Markup
    purpose: Markup
    suits: str
    notes: tuple[str, ...]
    """Short sentences under the purpose: weeks, minutes, equipment."""
    stair: tuple[CoverStep, ...]
    """The steps from the lowest to the highest; empty where the booklet is not a whole programme."""
    stair_heading: str
    sections: tuple[SectionView, ...]
    hints: tuple[SectionView, ...]
    """What to do through the day, beside the exercises."""
    contents_heading: str
    contents: tuple[ContentsLine, ...]
    rules_heading: str
    """Over the stop rules, by the name that the line above each foot and the table of contents give them."""
    safety: SafetyView
    code: CodeView
    review: str
    groups: tuple[GroupView, ...]
    rules_apart: bool = False
    """Whether the stop rules of a whole programme have a page, and what to ask first the next: large type has no room for both."""
    weeks: tuple[TicksView, ...] = ()
    """The last page of a whole programme: a row for each week."""
    typed_label: str = ""
    typed: str = ""
    """The bundle code in groups, for people who type it; empty where the booklet is of no bundle."""
    lost: str = ""
    """That what the bundle was begun from is not there, with its cautions; empty where nothing is lost."""
    goal: str = ""
    """Before a line for the patient's own goal; empty where there is none."""
