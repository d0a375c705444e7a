"""Whatever the order of adding, crashing and sending again from two phones: the record converges, drops nothing."""

import tempfile
from pathlib import Path

from builders.statements import NUMBERS, Phone
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule

from swabwright.record.chain import StatementRefused
from swabwright.record.custody import custody
from swabwright.record.journal import RECORD_FILE, open_journal, read_record
from swabwright.record.verify import verify_record

PHONES = st.sampled_from(["phone-a", "phone-b"])


class TwoPhones(RuleBasedStateMachine):
    """Two phones that know nothing of each other, one record that may lose power at any moment."""

    def __init__(self):
        super().__init__()
        self.scratch = tempfile.TemporaryDirectory()
        self.folder = Path(self.scratch.name)
        self.phones = {name: Phone(name, by=name) for name in ("phone-a", "phone-b")}
        self.said = {name: [] for name in self.phones}
        self.acknowledged = set()

    @rule(name=PHONES, collects=st.booleans())
    def say(self, name, collects):
        phone, place = self.phones[name], len(self.said[name])
        number = NUMBERS[2 * (place % 20) + (name == "phone-b")]
        self.said[name].append(phone.collects(number) if collects and place < 20 else phone.notes())

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
        assert holders(entries) == holders_in_another_order(self.said)
        self.scratch.cleanup()


def holders(entries):
    return {sample: custody(entries).holder(sample) for sample in NUMBERS}


def holders_in_another_order(said):
    with tempfile.TemporaryDirectory() as scratch:
        with open_journal(Path(scratch)) as journal:
            journal.add_all([one for name in sorted(said, reverse=True) for one in said[name]])
        return holders(read_record(Path(scratch)))


TestTwoPhones = TwoPhones.TestCase
TestTwoPhones.settings = settings(deadline=None, derandomize=True, max_examples=25, stateful_step_count=15)
