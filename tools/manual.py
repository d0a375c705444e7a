"""The manual: every page of docs/ as plain HTML in out/manual, links and pictures kept."""

import os
import re
import shutil
import sys
from html import escape
from pathlib import Path

from markdown_it import MarkdownIt

ROOT = Path(__file__).resolve().parent.parent
DOCS = ROOT / "docs"
OUT = ROOT / "out" / "manual"
CARRIED = {".png", ".svg", ".jpg", ".webp", ".json", ".csv", ".toml"}
SECTIONS = {
    "tutorial": "Learn",
    "howto": "Do one thing",
    "reference": "Look up",
    "explanation": "Understand",
}
PAGE = """\
<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title} - Swabwright manual</title>
<link rel="stylesheet" href="{up}manual.css">
</head>
<body>
<nav aria-label="Manual">{nav}</nav>
<main>
{body}
</main>
</body>
</html>
"""
STYLE = """\
body { font: 16px/25px "Atkinson Hyperlegible Next", sans-serif; color: #1b2220; background: #fbfaf6;
       display: grid; grid-template-columns: 15rem minmax(0, 44rem); gap: 2.5rem; margin: 24px 40px 60px 36px; }
nav p { margin: 20px 0 4px; font-weight: 600; }
nav ul { list-style: none; margin: 0; padding: 0; }
a { color: #31576b; }
img { max-width: 100%; }
pre { overflow-x: auto; padding: 12px; border: 1px solid #d3cebf; }
table { border-collapse: collapse; }
th, td { padding: 4px 12px 4px 0; border-bottom: 1px solid #d3cebf; text-align: left; vertical-align: top; }
@media (max-width: 60rem) { body { display: block; margin: 16px; } }
@media print { nav { display: none; } body { display: block; } }
"""


def build(docs: Path = DOCS, out: Path = OUT) -> Path:
    """Write the manual and return its first page."""
    shutil.rmtree(out, ignore_errors=True)
    out.mkdir(parents=True)
    (out / "manual.css").write_text(STYLE, "utf-8")
    pages = sorted(docs.rglob("*.md"))
    for page in pages:
        target = out / page.relative_to(docs).with_suffix(".html")
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(page_html(page, pages, docs), "utf-8")
    for file in docs.rglob("*"):
        if file.suffix in CARRIED:
            target = out / file.relative_to(docs)
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(file, target)
    return out / "index.html"


def page_html(page: Path, pages: list[Path], docs: Path) -> str:
    """One page: its text between the list of all pages and the foot."""
    markdown = MarkdownIt("commonmark").enable("table")
    body = markdown.render(page.read_text("utf-8"))
    body = re.sub(r'href="(?!\w+:)([^"#]+)\.md(#[^"]*)?"', r'href="\1.html\2"', body)
    up = "../" * (len(page.relative_to(docs).parts) - 1)
    return PAGE.format(title=escape(title_of(page)), up=up, nav=navigation(page, pages, docs), body=body)


def navigation(page: Path, pages: list[Path], docs: Path) -> str:
    """The list of all pages, by the four kinds of page, as seen from one page."""
    parts = [_link(page, docs / "index.md", "Contents")]
    for folder, heading in SECTIONS.items():
        links = [f"<li>{_link(page, other, title_of(other))}</li>" for other in pages if other.parent == docs / folder]
        if links:
            parts.append(f"<p>{heading}</p><ul>{''.join(links)}</ul>")
    return "\n".join(parts)


def title_of(page: Path) -> str:
    """The first heading of a page."""
    found = re.search(r"^# (.+)$", page.read_text("utf-8"), re.MULTILINE)
    return found.group(1).strip() if found else page.stem


def _link(page: Path, other: Path, words: str) -> str:
    target = os.path.relpath(other.with_suffix(".html"), page.parent)
    here = ' aria-current="page"' if page == other else ""
    return f'<a href="{target}"{here}>{escape(words)}</a>'


if __name__ == "__main__":
    print(f"The manual lies in {build()}", file=sys.stderr)
