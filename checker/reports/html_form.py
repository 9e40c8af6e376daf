"""The submittal report as one HTML file: nothing is fetched, and it is complete without its script.

The script only filters.  Links between findings, elements and drawings are plain links.
"""

from __future__ import annotations

import base64
import hashlib
import os
from typing import Any

from checker.findings.finding import Report

from . import cautions
from .content import KINDS, Content, build_content, counted
from .html_findings import FindingsPart
from .html_parts import facts, listed, name, table, tag, text, with_code
from .html_rulebook import rulebook
from .json_form import report_object
from .sheets import Sheet
from .submittal import carried_json

_ASSETS = os.path.join(os.path.dirname(os.path.abspath(__file__)), "assets")
_ESCAPED = {
    code: f"\\u{code:04x}"
    for code in (
        *(ord(sign) for sign in "<>&"),
        *(0x7F, 0x85, 0x61C, 0x200E, 0x200F, 0x2028, 0x2029, 0xFEFF),
        *range(0x202A, 0x202F),
        *range(0x2066, 0x206A),
    )
}
_SIGNERS = ("Designer", "Reviewer", "Responsible licensed person")


def render(report: Report) -> str:
    """The page."""
    data = report_object(report)
    content = build_content(report, data)
    script = _asset("report.js")
    findings = FindingsPart(content)
    parts = [
        _top(content, script),
        _cover(content),
        findings.action(),
        _not_covered(content),
        _decisions(content),
        _drawings(content),
        findings.all(),
        findings.elements(),
        _sheets(content),
        _schedules(content),
        *rulebook(report, content),
        "</main>",
        f'<script type="application/json" id="pullpoint-report">{_for_script(data)}</script>',
        f"<script>{script}</script>",
        "",
    ]
    page = "\n".join(parts)
    # What the page shows has a fingerprint of its own, since people read it and not the data in it.
    digest = hashlib.sha256(page.encode()).hexdigest()
    return f"{page}<!-- pullpoint-page sha256:{digest} -->\n</body></html>\n"


def _asset(file: str) -> str:
    with open(os.path.join(_ASSETS, file), encoding="utf-8") as source:
        return source.read()


def _for_script(data: dict[str, Any]) -> str:
    """JSON that cannot end the element it stands in, nor turn the direction of what follows.

    The signs of markup and those that break or reorder lines are written as JSON escapes.
    """
    return carried_json(data).translate(_ESCAPED)


def _top(content: Content, script: str) -> str:
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    policy = (
        f"default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{digest}'; "
        "base-uri 'none'; form-action 'none'"
    )
    title = f"{content.head}: {content.title}"
    links = [
        ("action", "Needs action"),
        ("not-covered", "Not covered"),
        ("decisions", "Decisions"),
        ("drawings", "Drawings"),
        ("all", "All findings"),
        ("elements", "Elements"),
        ("sheets", "Calculations"),
        ("schedules", "Schedules"),
        ("rules", "Rulebook"),
        ("tables", "Tables"),
    ]
    contents = "".join(f'<li><a href="#{anchor}">{words}</a></li>' for anchor, words in links)
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{text(title[:160])}</title>\n<style>{_asset('report.css')}</style></head>\n<body>"
        '<a class="skip" href="#action">Skip to the findings</a>'
        f'<nav aria-label="Contents"><b>{name(content.head[:60])}</b><ul>{contents}</ul></nav>'
        "<main>"
    )


def _cover(content: Content) -> str:
    counts = "".join(
        f'<li class="{kind}{"" if content.summary[kind] else " zero"}">'
        f"<b>{content.summary[kind]}</b> {counted(kind, content.summary[kind])}</li>"
        for kind in KINDS
    )
    memory = [content.from_memory] if content.from_memory else []
    said = "".join(f"<p>{text(line)}</p>" for line in [*content.cautions, *memory])
    notices = ""
    if content.notices:
        notices = f"<h2>To be known beside the findings</h2>{listed(content.notices)}"
    made_from = table(
        ("what", "named", "fingerprint"),
        [(text(a), text(b), f"<code>{text(c)}</code>") for a, b, c in content.fingerprints],
        label="What the report was made from",
    )
    signing = table(
        ("role", "name", "signature", "licence no.", "date"),
        [(role, "", "", "", "") for role in _SIGNERS],
        label="Sign-off",
    )
    return (
        '<header><p class="eyebrow">Submittal report: electrical checks of a prefabricated assembly'
        f"</p><h1>{name(content.head)}</h1><p class='title'>{text(content.title)}</p></header>"
        f"{facts(content.facts)}"
        f'<ul class="counts">{counts}</ul>'
        f'<p class="verdict">{text(" ".join(content.verdict))}</p>'
        f'<aside class="cautions"><h2>{text(cautions.HEADING)}</h2>{said}</aside>{notices}'
        f'<div class="made"><h2>Made from</h2>{made_from}</div>'
        f'<div class="sign"><h2>Sign-off</h2><p>{text(cautions.SIGNING)}</p>{signing}</div>'
    )


def _not_covered(content: Content) -> str:
    """What the design leaves out, what no rule checks, and what is left to the site."""
    rows = content.not_covered
    parts = ['<section id="not-covered"><h2>Not covered by this check</h2>']
    parts.append("<h3>Left out by the design</h3>")
    if rows.left_out:
        parts.append(
            table(
                ("topic", "reason", "by"),
                [tuple(map(text, row)) for row in rows.left_out],
                label="Left out by the design",
            )
        )
    else:
        parts.append("<p>The design lists nothing that it leaves out.</p>")
    parts.append("<h3>Requirements without a rule, or checked in part</h3>")
    parts.append(
        table(
            ("section", "requirement", "not checked", "decided by"),
            [tuple(map(text, row)) for row in rows.requirements],
            label="Requirements without a rule",
        )
    )
    parts.append("<h3>The site’s own work</h3>")
    if rows.site:
        parts.append(
            table(
                ("what", "name", "work"),
                [(text(what), name(own), text(work)) for what, own, work in rows.site],
                label="The site's own work",
            )
        )
    else:
        parts.append("<p>Nothing is pulled or completed by the site.</p>")
    return "".join([*parts, "</section>"])


def _decisions(content: Content) -> str:
    if not content.decisions:
        body = "<p>No decision file was given, so no finding is accepted.</p>"
    else:
        body = table(
            ("rule", "element", "disposition", "outcome", "by", "until", "reason"),
            [
                (
                    f"<code>{text(d.rule)}</code>",
                    name(d.element),
                    text(d.disposition),
                    text(d.outcome),
                    text(d.by),
                    text(d.until),
                    f"{text(d.reason)} <small>{text(d.place)}</small>",
                )
                for d in content.decisions
            ],
            label="Decisions",
        )
    return f'<section id="decisions"><h2>Decisions</h2>{body}</section>'


def _drawings(content: Content) -> str:
    figures = content.figures
    parts = ['<section id="drawings"><h2>Drawings</h2>']
    parts.append(
        "<p>An element with findings is a link to them; the numbers are those of the findings.</p>"
    )
    if figures.notes:
        parts.append(listed(figures.notes))
    large = [figure for figure in (figures.ratios,) if figure is not None]
    for figure in (*large, *figures.elevations, *figures.schematics):
        caption = "".join(f"<p>{text(t)}</p>" for t in (figure.caption, figure.key) if t)
        parts.append(
            f"<figure><h3>{text(figure.title)}</h3>{figure.svg}"
            f"<figcaption>{caption}</figcaption></figure>"
        )
    if figures.sections:
        parts.append(
            "<h3>Cross-sections</h3><p>The conductors to scale in the bore, the part of it that "
            "they take up, and the part that is permitted. Letters: phase, N neutral, G ground, IG "
            "isolated ground, sw switched, tr traveler, sp spare, sg signal; dotted: bare.</p>"
            '<div class="bores">'
            + "".join(f"<figure>{figure.svg}</figure>" for figure in figures.sections)
            + "</div>"
        )
    parts.append("</section>")
    return "".join(parts)


def _sheets(content: Content) -> str:
    left_out = f'<p class="note">{with_code(content.left_out)}</p>' if content.left_out else ""
    body = "".join(_sheet(sheet, content) for sheet in content.sheets)
    none = "" if content.sheets else "<p>No finding rests on a calculation.</p>"
    return f'<section id="sheets"><h2>Calculation sheets</h2>{left_out}{none}{body}</section>'


def _sheet(sheet: Sheet, content: Content) -> str:
    entry = content.entries[sheet.number - 1]
    element = content.elements[entry.element]
    rows = [
        (
            f"<code>{text(line.name)}</code><br><small>{text(line.note)}</small>",
            f"<code>{text(line.formula)}</code>",
            text(line.numbers),
            f"<b>{text(line.result)}</b>",
        )
        for line in sheet.lines
    ]
    against = f"<b>Measure:</b> {text(entry.against)}. " if entry.against else ""
    constants = ""
    if sheet.constants:
        constants = (
            "<p><small>Values of the rule: "
            + "; ".join(
                f"<code>{text(key)}</code> = {text(value)}" + (f" ({text(cite)})" if cite else "")
                for key, value, cite in sheet.constants
            )
            + "</small></p>"
        )
    return (
        f'<article class="sheet" id="s{entry.number}"><h3>{tag(entry.kind)} '
        f'<a href="#f{entry.number}">{entry.number}</a> '
        f'<a href="#e{entry.element}">{name(element.label)}</a> '
        f"<code>{text(entry.rule)}</code></h3>"
        f"<p><small>{text(entry.title)}. {text(entry.citation)}.</small></p>"
        + table(
            ("step", "formula", "with numbers", "result"), rows, numbers=(3,),
            label=f"Calculation of finding {entry.number}",
        )
        + f"<p>{against}{text(entry.message)}</p>{constants}</article>"
    )  # fmt: skip


def _schedules(content: Content) -> str:
    parts = ['<section id="schedules"><h2>Schedules</h2>']
    for schedule in content.schedules:
        rows = []
        for row in schedule.rows:
            cells = [text(cell) for cell in row.cells[:-1]]
            if row.element is not None:
                cells[0] = f'<a href="#e{row.element}">{name(row.cells[0])}</a>'
            else:
                cells[0] = name(row.cells[0])
            cells.append(
                " ".join(
                    f'<a href="#f{n}">{n} {content.entries[n - 1].kind}</a>' for n in row.numbers
                )
            )
            rows.append(cells)
        note = f"<p>{text(schedule.note)}</p>" if schedule.note else ""
        parts.append(f"<h3>{text(schedule.title)}</h3>{note}")
        parts.append(
            table(
                [column.head for column in schedule.columns],
                rows,
                numbers=[i for i, column in enumerate(schedule.columns) if column.number],
                label=schedule.title,
            )
        )
    parts.append("</section>")
    return "".join(parts)
