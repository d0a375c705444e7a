"""What further samples would say of where it lives: laws, and small tables enumerated by other lines."""

from itertools import product

import numpy as np
import pytest
from builders.foreseen import EXACT, always, informed, table, telling
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.inference.information import choose_informative
from swabwright.inference.information_kernels import entropies, entropy_at


def h(chance: np.ndarray) -> np.ndarray:
    inside = np.clip(chance, 1e-15, 1 - 1e-15)
    return -(inside * np.log2(inside) + (1 - inside) * np.log2(1 - inside))


def entropy(shares: np.ndarray) -> float:
    shares = shares[shares > 0]
    return float(-(shares * np.log2(shares)).sum())


def exact_bits(chance: np.ndarray, labels: np.ndarray, weight: np.ndarray) -> float:
    """Mutual information of the label and all items' outcomes, every outcome enumerated."""
    start = np.bincount(labels, weight)
    left = 0.0
    for outcome in product((True, False), repeat=len(chance)):
        like = np.prod([row if found else 1 - row for row, found in zip(chance, outcome, strict=True)], axis=0)
        joint = np.bincount(labels, weight * like)
        left += joint.sum() * entropy(joint / joint.sum())
    return entropy(start) - left


def plain(what, items, paths=EXACT):
    """The chain of gains without anything held against it."""
    made = informed(what, paths)
    weights, total = made.paths.after(()), 0.0
    for item in items:
        total += made.gains(weights, np.ones(len(what.tie), bool))[item]
        weights = made.paths.further(weights, item)
    return total


def test_one_samples_bits_are_those_of_plain_enumeration() -> None:
    chance, labels = telling()
    weight = np.random.default_rng(1).dirichlet(np.ones(len(labels)))
    what = table(chance, labels, weight=weight)
    got = informed(what).gains(informed(what).paths.after(()), np.ones(len(chance), bool))
    assert got == pytest.approx([exact_bits(one[None], labels, weight) for one in chance], abs=1e-5)


def test_bits_of_several_samples_add_up_to_plain_enumeration() -> None:
    chance, labels = telling()
    exact = exact_bits(chance[:4], labels, np.full(len(labels), 1 / len(labels)))
    assert plain(table(chance, labels), range(4)) == pytest.approx(exact, rel=0.03)


def test_the_first_choice_says_most_of_all_by_enumeration() -> None:
    chance, labels = telling(items=12, seed=9)
    even = np.full(len(labels), 1 / len(labels))
    first = choose_informative(informed(table(chance, labels)), (), 1, always)[0].item
    assert first == int(np.argmax([exact_bits(one[None], labels, even) for one in chance]))


@given(st.floats(1e-9, 1.0))
@settings(deadline=None, derandomize=True)
def test_a_tabled_entropy_is_the_entropy(chance: float) -> None:
    assert entropy_at(entropies(), chance) == pytest.approx(float(h(np.array(chance))), rel=2e-5, abs=2e-6)


def test_a_sample_that_shows_the_same_everywhere_says_nothing() -> None:
    chance, labels = telling()
    chance[2] = 0.3
    made = informed(table(chance, labels))
    assert made.bits(made.after(()), 2).value == pytest.approx(0, abs=1e-8)
    assert 2 not in [one.item for one in choose_informative(made, (), len(chance), always)]


def test_a_table_without_meaning_chooses_hardly_anything() -> None:
    draw = np.random.default_rng(11)
    noise, labels = draw.uniform(0.2, 0.8, (40, 160)), np.repeat(np.arange(4), 40)
    chosen = choose_informative(informed(table(noise, labels)), (), 12, always)
    assert len(chosen) <= 4
    assert sum(one.bits.value for one in chosen) < 0.1 * entropy(np.full(4, 0.25))


@given(st.permutations(range(8)))
@settings(deadline=None, derandomize=True, max_examples=10)
def test_listing_items_otherwise_permutes_the_choice(order: list[int]) -> None:
    chance, labels = telling()
    tie = np.arange(8) * 7919 + 13
    plainly = [one.item for one in choose_informative(informed(table(chance, labels)), (), 4, always)]
    mixed = table(chance[order], labels, tie=tie[order])
    assert [order[one.item] for one in choose_informative(informed(mixed), (), 4, always)] == plainly


def test_numbering_labels_otherwise_changes_no_bits() -> None:
    chance, labels = telling()
    even = np.ones(len(chance), bool)
    one, other = (informed(table(chance, own)) for own in (labels, 3 - labels))
    assert one.gains(one.paths.after(()), even) == pytest.approx(other.gains(other.paths.after(()), even), abs=1e-8)


def test_only_one_item_of_a_site_is_chosen() -> None:
    chance, labels = telling()
    what = table(chance, labels, site=np.arange(8) // 4)
    sites = [one.item // 4 for one in choose_informative(informed(what), (), 8, always)]
    assert sorted(sites) == [0, 1]


def test_what_is_not_allowed_is_not_chosen_and_what_comes_first_stays() -> None:
    chance, labels = telling()
    best = choose_informative(informed(table(chance, labels)), (), 1, always)[0].item
    chosen = choose_informative(informed(table(chance, labels)), (3,), 4, lambda items: best not in items)
    items = [one.item for one in chosen]
    assert items[0] == 3
    assert best not in items


def test_each_further_sample_of_the_same_kind_says_less() -> None:
    chance, labels = telling(items=1)
    what = table(np.repeat(chance, 6, axis=0), labels)
    said = [one.bits.value for one in informed(what, EXACT).chain(range(6))]
    assert said[0] > said[2] > said[5]


def test_an_exchange_never_lowers_what_is_said() -> None:
    chance, labels = telling(items=10, seed=21)
    what = table(chance, labels)
    made = informed(what, EXACT)
    greedy, weights = [], made.paths.after(())
    for _ in range(3):
        greedy.append(made.best(greedy, always, made.at(weights)).item)
        weights = made.paths.further(weights, greedy[-1])
    after = [one.item for one in choose_informative(made, (), 3, always)]
    even = np.full(len(labels), 1 / len(labels))
    assert exact_bits(chance[after], labels, even) >= exact_bits(chance[greedy], labels, even) - 0.01
