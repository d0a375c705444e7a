"""The base of every document: strict, frozen, unknown fields refused."""

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from swabwright.plant import forms


class Part(BaseModel):
    """A part of a document: immutable, strictly typed, no unknown field."""

    # The words under a field are published with its schema, so that one sentence serves code and reader.
    model_config = ConfigDict(
        extra="forbid", frozen=True, strict=True, allow_inf_nan=False, use_attribute_docstrings=True
    )


Identifier = Annotated[str, StringConstraints(pattern=forms.IDENTIFIER)]
"""Short lower-case name that other parts refer to: `slicing`, `line-a`."""

SiteCode = Annotated[str, StringConstraints(pattern=forms.SITE_CODE)]
"""The plant's or the investigator's short code of a site: `S014`."""

SiteKey = Annotated[str, StringConstraints(pattern=forms.RANDOM_IDENTITY)]
"""Permanent random identity of a site, 128 bits in hexadecimal; made once, never shown."""

NOT_BLANK = r"\S"
# A name of spaces only would print as nothing on a label, so it is refused like an empty one.
Text = Annotated[str, StringConstraints(min_length=1, max_length=400, pattern=NOT_BLANK)]
Fraction = Annotated[float, Field(ge=0, le=1)]
Metres = Annotated[float, Field(ge=-10_000, le=10_000)]
Positive = Annotated[float, Field(gt=0)]
Point = tuple[Metres, Metres]
"""x, y in metres on the plant's own drawing."""
