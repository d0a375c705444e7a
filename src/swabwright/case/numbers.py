"""Sample numbers: they say nothing, carry a check character, and never change once accepted.

A number is six characters and a check character, `7K4M9R-K`: digit, letter, digit, letter, digit, letter, so that
it never spells a word. The alphabet has 31 characters: the digits 2 to 9 and the letters A to Z without I, L and O,
which are mistaken for 1, 1 and 0. Each character counts as its place in the alphabet (2 is 0, 9 is 7, A is 8, Z is 30).
The check character makes the sum of 1 x first + 2 x second + ... + 6 x sixth + 7 x check a multiple of 31; as 31 is
prime, every single wrong character and every swap of two characters is noticed.
"""

import hashlib
from collections.abc import Collection, Iterator

from swabwright.errors import SwabwrightError

DIGITS = "23456789"
LETTERS = "ABCDEFGHJKMNPQRSTUVWXYZ"
ALPHABET = DIGITS + LETTERS
_LENGTH = 6
_CHECK_WEIGHT = 7


def check_character(body: str) -> str:
    """The check character of a number's six characters."""
    total = sum(weight * ALPHABET.index(character) for weight, character in enumerate(body, start=1))
    inverse = pow(_CHECK_WEIGHT, -1, len(ALPHABET))
    return ALPHABET[(-total * inverse) % len(ALPHABET)]


def read_number(typed: str) -> str:
    """A typed or scanned number in its one spelling, `7K4M9R-K`; refused when it cannot be one of ours."""
    characters = "".join(typed.split()).replace("-", "").upper()
    if len(characters) != _LENGTH + 1 or any(character not in ALPHABET for character in characters):
        raise SwabwrightError(f"'{typed}' is not a sample number: six characters, a dash and a check, as in 7K4M9R-K")
    body, check = characters[:_LENGTH], characters[_LENGTH]
    if check != check_character(body):
        raise SwabwrightError(f"'{typed}' has a wrong check character; read it from the label again")
    return f"{body}-{check}"


def sample_numbers(case: str, visit: str, seed: int, taken: Collection[str]) -> Iterator[str]:
    """An endless series of numbers for one visit, none of them in `taken`; the same inputs give the same series."""
    given = set(taken)
    counter = 0
    while True:
        body = _body(hashlib.sha256(f"{case}\n{visit}\n{seed}\n{counter}".encode()).digest())
        number = f"{body}-{check_character(body)}"
        if number not in given:
            given.add(number)
            yield number
        counter += 1


def _body(digest: bytes) -> str:
    value = int.from_bytes(digest, "big")
    characters = []
    for position in range(_LENGTH):
        kind = LETTERS if position % 2 else DIGITS
        value, place = divmod(value, len(kind))
        characters.append(kind[place])
    return "".join(characters)
