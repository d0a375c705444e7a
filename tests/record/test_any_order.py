"""Whatever the order of adding, crashing and sending again from two phones: the record converges, drops nothing."""

import tempfile
from pathlib import Path

from builders.grounds import GROUND
from builders.statements import NUMBERS, Phone
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from swabwright.record.chain import StatementRefused
from swabwright.record.custody import custody
from swabwright.record.floor_rules import floor_contradictions
from swabwright.record.journal import RECORD_FILE, open_journal, read_record
from swabwright.record.spelling import statement_bytes
from swabwright.record.verify import verify_record
from swabwright.work.record_take_in import take_in

PHONES = st.sampled_from(["phone-a", "phone-b"])
FLOOR = {
    "hold_answered": {"line": "slicing", "answered_by": "Plant manager", "answer": "held"},
    "stop_seen": {"line": "slicing", "stopped_by": "Shift lead", "seen_by": "Ada Lind"},
    "line_started": {"line": "slicing"},
}
SITES = {"S001": 1, "S002": 1, "S004": 2}


class TwoPhones(RuleBasedStateMachine):
    """Two phones that know nothing of each other, one record that may lose power at any moment."""

    def __init__(self):
        super().__init__()
        self.scratch = tempfile.TemporaryDirectory()
        self.folder = Path(self.scratch.name)
        (self.folder / "investigation.json").write_text("{}")
        self.phones = {name: Phone(name, by=name) for name in ("phone-a", "phone-b")}
        self.said = {name: [] for name in self.phones}
        self.acknowledged = set()

    @rule(name=PHONES, site=st.sampled_from(sorted(SITES)) | st.none())
    def say(self, name, site):
        phone, place = self.phones[name], len(self.said[name])
        fields = {"sample": NUMBERS[2 * (place % 20) + (name == "phone-b")], "sample_kind": "surface", "device": "SP"}
        takes = site is not None and place < 20
        self.said[name].append(
            phone.says("collected", site=site, zone=SITES[site], **fields) if takes else phone.notes()
        )

    @rule(name=PHONES, kind=st.sampled_from(sorted(FLOOR)))
    def tell_of_the_floor(self, name, kind):
        self.said[name].append(self.phones[name].says(kind, **FLOOR[kind]))

    @rule(name=PHONES)
    def hand_over(self, name):
        taken = [one.body.sample for one in self.said[name] if one.body.kind == "collected"]
        if taken:
            fields = {"giver": name, "taker": "Driver", "purpose": "transport", "samples": taken[-1:]}
            self.said[name].append(self.phones[name].says("hand_over", **fields))

    @rule(data=st.data())
    def take_in_a_file(self, data):
        every = [one for said in self.said.values() for one in said]
        if every:
            lines = data.draw(st.permutations(every)) + data.draw(st.lists(st.sampled_from(every), max_size=3))
            file = self.folder / "phones.jsonl"
            file.write_bytes(b"\n".join(map(statement_bytes, lines)))
            take_in(self.folder, file)
            self.acknowledged |= {(one.device, one.id) for one in every}

    @rule(name=PHONES, start=st.integers(0, 5), count=st.integers(1, 4))
    def send(self, name, start, count):
        sent = self.said[name][start : start + count]
        with open_journal(self.folder) as journal:
            try:
                journal.add_all(sent)
            except StatementRefused:
                assert start > len([one for one in self.acknowledged if one[0] == name])
            else:
                self.acknowledged |= {(name, one.id) for one in sent}

    @rule(torn=st.binary(min_size=1, max_size=40).filter(lambda torn: b"\n" not in torn))
    def crash(self, torn):
        with (self.folder / RECORD_FILE).open("ab") as file:
            file.write(torn)

    @rule(name=PHONES)
    def send_everything(self, name):
        with open_journal(self.folder) as journal:
            for one in self.said[name]:
                journal.add(one)
        self.acknowledged |= {(name, one.id) for one in self.said[name]}

    @invariant()
    def what_was_acknowledged_is_there_once(self):
        held = [(entry.statement.device, entry.statement.id) for entry in read_record(self.folder)]
        assert len(held) == len(set(held))
        assert set(held) == self.acknowledged

    def teardown(self):
        for name in self.said:
            self.send_everything(name)
        entries = read_record(self.folder)
        assert verify_record(self.folder).entries == len(entries)
        for name, said in self.said.items():
            assert [one.statement for one in entries if one.statement.device == name] == said
        others = in_another_order(self.said)
        assert (holders(entries), told(entries)) == (holders(others), told(others))
        self.scratch.cleanup()


def holders(entries):
    return {sample: custody(entries).holder(sample) for sample in NUMBERS}


def told(entries):
    """What contradicts the floor, by the statement that does."""
    ids = {entry.number: entry.statement.id for entry in entries}
    return {(ids[one.entry], one.words) for one in floor_contradictions(entries, GROUND)}


def in_another_order(said):
    with tempfile.TemporaryDirectory() as scratch:
        with open_journal(Path(scratch)) as journal:
            journal.add_all([one for name in sorted(said, reverse=True) for one in said[name]])
        return read_record(Path(scratch))


TestTwoPhones = TwoPhones.TestCase
TestTwoPhones.settings = settings(deadline=None, derandomize=True, max_examples=60, stateful_step_count=20)
