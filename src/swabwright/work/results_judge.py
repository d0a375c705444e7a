"""Rows held against the record: taken in, already there, or held apart with the reason."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import accumulate

from swabwright.record.results import Stated
from swabwright.work.blank_words import blank_words
from swabwright.work.results_report import ReportFacts
from swabwright.work.results_rows import HeldRow, ReadRow, RowHeld, same_words
from swabwright.work.results_view import RecordView

SECONDS_AN_HOUR = 3600.0


@dataclass(frozen=True)
class TakenRow:
    """A row that goes into the record; `amends` names the entry of the first result where the report amends it."""

    row: ReadRow
    amends: str | None = None
    flags: tuple[str, ...] = ()


@dataclass
class Judged:
    """What becomes of every row of a table."""

    taken: list[TakenRow] = field(default_factory=list)
    already: list[ReadRow] = field(default_factory=list)
    isolates: list[ReadRow] = field(default_factory=list)
    """Rows whose isolate is not in the record yet."""
    held: list[HeldRow] = field(default_factory=list)


def judge(rows: Iterable[ReadRow | HeldRow], facts: ReportFacts, digest: str, view: RecordView) -> Judged:
    """What becomes of the rows of the report with this hash, beside the record as it stands."""
    judged, groups = Judged(), defaultdict(list)
    for row in rows:
        if isinstance(row, HeldRow):
            judged.held.append(row)
        else:
            groups[row.about].append(row)
    for group in groups.values():
        _judge_group(judged, group, _Rules(facts, digest, view))
    judged.held.sort(key=lambda one: one.number)
    return judged


def _judge_group(judged: Judged, group: Sequence[ReadRow], rules: "_Rules") -> None:
    """Rows of one sample, organism and method: one result at most, and any number of isolates."""
    first, *others = group
    if len({row.outcome for row in group}) > 1:
        words = " and ".join(sorted({f"'{row.word}'" for row in group}))
        judged.held += [_held(row, f"contradictory duplicate: the table says {words} of this sample") for row in group]
        return
    so_far = accumulate([one] for one in group)
    repeated = [row for row, before in zip(others, so_far, strict=False) if _repeats(row, before)]
    judged.held += [_held(row, f"duplicate of {first.where}; it says the same") for row in repeated]
    try:
        taken = rules.taken(first)
    except RowHeld as reason:
        judged.held += [_held(row, str(reason)) for row in group if row not in repeated]
        return
    if taken is None:
        judged.already.append(first)
    else:
        judged.taken.append(taken)
    for row in group:
        if row not in repeated:
            _judge_isolate(judged, row, rules)


def _judge_isolate(judged: Judged, row: ReadRow, rules: "_Rules") -> None:
    try:
        if rules.is_new_isolate(row):
            judged.isolates.append(row)
    except RowHeld as reason:
        judged.held.append(_held(row, str(reason)))


def _repeats(row: ReadRow, before: Sequence[ReadRow]) -> bool:
    """Whether a row says nothing that the rows before it have not said."""
    return row.isolate is None or row.isolate in [one.isolate for one in before]


def _held(row: ReadRow, reason: str) -> HeldRow:
    return HeldRow(row.where, row.number, row.sample, row.word, reason)


@dataclass(frozen=True)
class _Rules:
    """What a row must agree with before it is taken in."""

    facts: ReportFacts
    digest: str
    view: RecordView

    def taken(self, row: ReadRow) -> TakenRow | None:
        """The row as it is taken in, None when the record holds it already. Raises RowHeld with the reason."""
        self._must_be_collected(row.sample)
        self._must_fit_site(row)
        flags = (*self._blank_flags(row), *self._started_flags(row))
        stated = self._stated(row)
        same = [one for one in stated if one.body.report == self.digest and one.body.method == row.method]
        if same:
            if same[0].body.outcome != row.outcome:
                raise RowHeld(
                    f"this report was read as '{same[0].body.outcome.replace('_', ' ')}' for this sample before "
                    f"(entry {same[0].entry}); supersede that entry if it was misread"
                )
            return None
        if self._repeats_a_final(row, stated):
            return None
        return TakenRow(row, self._amends(row, stated), flags)

    def is_new_isolate(self, row: ReadRow) -> bool:
        """Whether the row tells of its isolate what the record does not hold yet. Raises RowHeld."""
        told = row.isolate
        if told is None:
            return False
        named = [one for one in self.view.isolates if (one.isolate, one.held_by) == (told.name, self.facts.laboratory)]
        elsewhere = [one.sample for one in named if one.sample != row.sample]
        if elsewhere:
            raise RowHeld(f"isolate {told.name} is of sample {elsewhere[0]} in the record; ask which sample it is of")
        if not named:
            return True
        strain, sequence = named[0].strain, named[0].sequence_identifier
        if told.strain and strain and told.strain != strain and self.facts.status != "amended":
            raise RowHeld(
                f"isolate {told.name} was told as strain {strain}, now as {told.strain}; "
                "only an amended report changes it"
            )
        return told.strain not in (None, strain) or told.sequence not in (None, sequence)

    def _repeats_a_final(self, row: ReadRow, stated: Sequence[Stated]) -> bool:
        """Whether a further final report says of the sample what stands: a report of typing does."""
        finals = [one for one in stated if one.report.status == "final" and one.body.report != self.digest]
        current = self.view.current.get(row.sample, ())
        now = [one.outcome for one in current if one.organism == row.organism]
        return self.facts.status == "final" and bool(finals) and row.outcome in now

    def _must_be_collected(self, sample: str) -> None:
        story = self.view.stories.get(sample)
        if sample in self.view.taken:
            return
        if sample in self.view.withdrawn:
            raise RowHeld(f"the sample was withdrawn from the record, because: {self.view.withdrawn[sample]}")
        if story and story.not_taken:
            raise RowHeld(f"the record says it was not taken, because: {story.not_taken[-1].reason}")
        if sample in self.view.case.numbers_taken or story:
            raise RowHeld("not collected: the number is planned, but the record does not say that it was taken")
        raise RowHeld(
            "unknown number: no sample of this case has it; only an amended report of the laboratory resolves it"
        )

    def _must_fit_site(self, row: ReadRow) -> None:
        site = self.view.site_of(row.sample)
        if not row.site or (site and any(same_words(row.site, name) for name in (site.name, site.code))):
            return
        ours = f"{site.name} ({site.code})" if site else "no site"
        raise RowHeld(
            f"unmatched site name: the table says '{row.site}', the record says {ours}; "
            "only an amended report of the laboratory resolves it"
        )

    def _blank_flags(self, row: ReadRow) -> tuple[str, ...]:
        blank = self.view.taken[row.sample].body.sample_kind == "blank"
        if not blank or row.outcome not in ("detected", "presumptive"):
            return ()
        return (blank_words(row.sample, "its visit"),)

    def _started_flags(self, row: ReadRow) -> tuple[str, ...]:
        if row.started is None:
            return ()
        taken = datetime.fromisoformat(self.view.taken[row.sample].taken_at)
        if not isinstance(row.started, datetime):
            if row.started < taken.astimezone(self.facts.zone).date():
                raise RowHeld(f"dated before collection: analysis on {row.started}, taken {taken:%Y-%m-%d %H:%M}")
            return (f"sample {row.sample}: the day of analysis is stated without its hour",)
        hours = (row.started - taken).total_seconds() / SECONDS_AN_HOUR
        if hours < 0:
            raise RowHeld(
                f"dated before collection: analysis started {row.started:%Y-%m-%d %H:%M}, taken {taken:%Y-%m-%d %H:%M}"
            )
        limit = self.view.case.figures.number("rule.hours_to_analysis_limit")
        if hours <= limit:
            return ()
        return (
            f"sample {row.sample}: analysis started {hours:.0f} hours after collection, later than the rulebook's "
            f"{limit:g}; whether the result is valid is the laboratory's word",
        )

    def _stated(self, row: ReadRow) -> tuple[Stated, ...]:
        current = self.view.current.get(row.sample, ())
        return next((one.stated for one in current if one.organism == row.organism), ())

    def _amends(self, row: ReadRow, stated: Sequence[Stated]) -> str | None:
        """The first result's entry where the report amends it; refused where the report cannot say this."""
        if self.facts.status == "amended":
            return self._first(row, stated)
        finals = [one for one in stated if one.report.status == "final" and one.body.report != self.digest]
        if self.facts.status == "final" and finals:
            raise RowHeld(
                f"different report: the sample has its result from report {finals[0].report.accession} "
                f"(entry {finals[0].entry}); only an amended report changes it"
            )
        return None

    def _first(self, row: ReadRow, stated: Sequence[Stated]) -> str | None:
        plain = [one for one in stated if one.report.status != "amended"]
        if plain:
            return plain[-1].id
        if stated:
            return None
        # the first report held this row apart: the amended one is then its first word about the sample
        if self.view.accessions().get(self.facts.accession, frozenset()) - {self.digest}:
            return None
        raise RowHeld(
            f"amended without a first: no result of this sample is in the record, and no earlier report "
            f"{self.facts.accession}; import the first report, then this one again"
        )
