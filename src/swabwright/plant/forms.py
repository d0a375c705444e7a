"""Forms that a short text must have, each with the words that tell it to a person."""

IDENTIFIER = r"^[a-z0-9][a-z0-9_-]{0,63}$"
SITE_CODE = r"^[A-Za-z0-9][A-Za-z0-9._/-]{0,31}$"
RANDOM_IDENTITY = r"^[0-9a-f]{32}$"
HASH = r"^[0-9a-f]{64}$"
MOMENT = r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)$"
FILE_ENDING = r"^[a-z0-9]{1,8}$"

IN_WORDS = {
    IDENTIFIER: "small letters a to z, digits, - and _, at most 64, the first a letter or a digit: line-a",
    SITE_CODE: "letters, digits and . _ / -, at most 32, the first a letter or a digit: S014",
    RANDOM_IDENTITY: "32 characters of 0 to 9 and a to f",
    HASH: "64 characters of 0 to 9 and a to f",
    MOMENT: "a date and a time with its offset from UTC, in whole seconds: 2026-03-05T09:30:00+01:00",
    FILE_ENDING: "1 to 8 small letters or digits, without a point: jpg",
}
"""What each form allows, with an example where one helps."""
