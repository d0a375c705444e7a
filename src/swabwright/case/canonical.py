"""Documents as canonical bytes (RFC 8785), and the SHA-256 that stands for them."""

import hashlib
import json

import rfc8785

from swabwright.plant.model import Part


def canonical_json(document: Part) -> bytes:
    """The one spelling of a document: the same bytes in every language (RFC 8785, JSON canonicalisation)."""
    return rfc8785.dumps(json.loads(document.model_dump_json()))


def document_hash(document: Part) -> str:
    """SHA-256, in hexadecimal, of a document's canonical bytes; white space and key order do not matter."""
    return hashlib.sha256(canonical_json(document)).hexdigest()


def bytes_hash(content: bytes) -> str:
    """SHA-256, in hexadecimal, of bytes as they are."""
    return hashlib.sha256(content).hexdigest()


def readable_json(document: Part) -> bytes:
    """A document as people read and compare it: indented, one trailing line end."""
    return (document.model_dump_json(indent=2) + "\n").encode()
