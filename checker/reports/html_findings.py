"""The findings in the HTML form: what needs action, all of them with filters, and by element."""

from __future__ import annotations

from . import cautions, submittal
from .content import KINDS, Content, Entry
from .html_parts import TAGS, mark, name, tag, text

#: Checks that hold which have a row of their own in a very long report, the closest first.
MOST_HOLDING = 3_000


class FindingsPart:
    """Writes the three lists of findings."""

    def __init__(self, content: Content) -> None:
        self.content = content
        self.alike: dict[int, list[Entry]] = {}
        for entry in content.entries:
            if entry.alike:
                self.alike.setdefault(entry.alike, []).append(entry)
        self.brief = len(content.entries) > submittal.BRIEF_FROM
        self.sheets = {sheet.number for sheet in content.sheets}
        self.rules = {rule.id: place for place, rule in enumerate(content.rules)}

    # -- what needs action -----------------------------------------------------------------

    def action(self) -> str:
        """What needs action, one after the other; what says the same of one place as one."""
        needed = [entry for entry in self.content.entries if entry.needs_action]
        entries = [entry for entry in needed if not entry.alike]
        body = "".join(map(self._article, entries))
        if not entries:
            body = (
                "<p>No check fails, none is open and none waits for a person. "
                f"{text(self.content.deferral)}</p>"
            )
        return f'<section id="action"><h2>Findings that need action</h2>{body}</section>'

    def _article(self, entry: Entry) -> str:
        lines = [f"<p>{text(entry.message)}</p>"]
        if entry.against:
            lines.append(f"<p><b>Measured:</b> {text(entry.against)}</p>")
        if entry.mend:
            lines.append(f"<p><b>Mend:</b> {text(entry.mend)}</p>")
        if entry.decision:
            lines.append(f"<p><b>Decision:</b> {text(entry.decision)}</p>")
        accepted = " (accepted)" if entry.accepted else ""
        placed = f", {text(entry.placed)}" if entry.placed else ""
        lines.append(
            f'<p class="fine">{text(entry.title)}. {text(entry.citation)}. '
            f"<code>{text(entry.place)}</code>{placed}{self._links(entry)}</p>"
        )
        return (
            f'<article class="finding" id="f{entry.number}">'
            f"<h3>{mark(entry.number, entry.kind)} {tag(entry.kind)} {self._elements(entry)} "
            f"{self._rule(entry)}{accepted}</h3>" + "".join(lines) + "</article>"
        )

    def _links(self, entry: Entry) -> str:
        links = ""
        drawn = self.content.elements[entry.element].drawn
        if drawn is not None:
            links += f' · <a href="#d{drawn}">in the drawing</a>'
        if entry.number in self.sheets:
            links += f' · <a href="#s{entry.number}">calculation</a>'
        return links and f'<span class="go">{links}</span>'

    def _rule(self, entry: Entry) -> str:
        place = self.rules.get(entry.rule)
        code = f"<code>{text(entry.rule)}</code>"
        return code if place is None else f'<a href="#r{place}">{code}</a>'

    def _elements(self, entry: Entry) -> str:
        """The element, or all of which the same is said; each keeps its number."""
        others = self.alike.get(entry.number, ())
        listed = ", ".join(
            f'<span id="f{one.number}">{self._element(one)}</span>' for one in others
        )
        if not others:
            return self._element(entry)
        return f"{len(others) + 1} elements: {self._element(entry)}, {listed}"

    def _element(self, entry: Entry) -> str:
        label = self.content.elements[entry.element].label
        return f'<a href="#e{entry.element}">{name(label)}</a>'

    # -- all -------------------------------------------------------------------------------

    def all(self) -> str:
        """Every finding as a row."""
        entries = self.content.entries
        alone = entries if not self.brief else self._worth_a_row()
        rows = "".join(map(self._row, alone))
        if self.brief:
            kept = {entry.number for entry in alone}
            rows += self._together([e for e in entries if e.number not in kept])
        heads = ("No.", "kind", "rule", "element", "what is said", "measure", "limit", "ratio")
        numbers = {0, 5, 6, 7}
        head = "".join(
            f'<th scope="col"{" class=n" if i in numbers else ""}>{h}</th>'
            for i, h in enumerate(heads)
        )
        return (
            f'<section id="all"><h2>All findings</h2><p>{cautions.RATIO}</p>'
            f"{self._on_paper()}{self._filters()}"
            '<div class="wide" tabindex="0" role="region" aria-label="All findings">'
            f'<table id="list"><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table></div>'
            "</section>"
        )

    def _on_paper(self) -> str:
        """What a print leaves out, said in the print."""
        count = self.content.summary["notApplicable"]
        if not count:
            return ""
        checks = f"{count} checks that do" if count != 1 else "1 check that does"
        return (
            f'<p class="paper">On paper the {checks} not apply are left out of the list; '
            "the page and the report inside it have them.</p>"
        )

    def _row(self, entry: Entry) -> str:
        number = entry.number
        if entry.needs_action:
            first, anchor = f'<a href="#f{number}">{number}</a>', ""
        else:
            first, anchor = str(number), f' id="f{number}"'
        said = text(entry.message) + (f" <b>Mend:</b> {text(entry.mend)}" if entry.mend else "")
        return (
            f'<tr{anchor} data-k="{entry.kind}" data-r="{text(entry.rule)}">'
            f"<td class=n>{first}</td><td>{tag(entry.kind)}</td><td>{self._rule(entry)}</td>"
            f"<td>{self._element(entry)}</td><td>{said}{self._links(entry)}</td>"
            f"<td class=n>{text(entry.measure)}</td><td class=n>{text(entry.bound)}</td>"
            f"<td class=n>{_ratio(entry)}</td></tr>\n"
        )

    def _worth_a_row(self) -> list[Entry]:
        """In a very long report: all but what does not apply, and what holds with ease."""
        entries = self.content.entries
        holding = [e for e in entries if e.kind == "pass" and e.graded]
        holding.sort(key=lambda e: (-(e.ratio or 0.0), e.number))
        closest = {entry.number for entry in holding[:MOST_HOLDING]}
        return [
            e for e in entries if e.number in closest or e.kind not in ("pass", "notApplicable")
        ]

    def _together(self, entries: list[Entry]) -> str:
        """One row for all elements of a rule and kind."""
        groups: dict[tuple[str, str, str], list[Entry]] = {}
        for entry in entries:
            said = entry.message
            if entry.kind == "pass":
                said = "holds; the others of this rule that hold are closer to their limits"
                said = said if entry.graded else "holds"
            groups.setdefault((entry.rule, entry.kind, said), []).append(entry)
        rows = []
        for (rule, kind, said), group in groups.items():
            listed = ", ".join(
                f'<a id="f{e.number}" href="#e{e.element}">'
                f"{name(self.content.elements[e.element].label)}</a> {_ratio(e)}".rstrip()
                for e in group
            )
            rows.append(
                f'<tr data-k="{kind}" data-r="{text(rule)}" data-n="{len(group)}">'
                f"<td class=n>{len(group)} findings</td><td>{tag(kind)}</td>"
                f"<td>{self._rule(group[0])}</td><td colspan=2>{listed}</td>"
                f"<td colspan=3>{text(said)}</td></tr>\n"
            )
        return "".join(rows)

    def _filters(self) -> str:
        content = self.content
        kinds = "".join(
            f'<label><input type="checkbox" name="kind" value="{kind}" checked> {TAGS[kind]} '
            f"{content.summary[kind]}</label>"
            for kind in KINDS
            if content.summary[kind]
        )
        rules = "".join(
            f'<option value="{text(rule)}">{text(rule)}</option>'
            for rule in sorted({entry.rule for entry in content.entries})
        )
        # Without the script a filter would do nothing, so the script is what shows it.
        return (
            '<form id="filter" hidden><fieldset><legend>Kind</legend>' + kinds + "</fieldset>"
            '<label>Rule <select name="rule"><option value="">every rule</option>'
            f"{rules}</select></label>"
            '<label>Element <input name="element" type="search" autocomplete="off" '
            'placeholder="part of its name"></label>'
            '<button type="reset">Show all</button>'
            '<p id="shown" role="status"></p></form>'
        )

    # -- by element ------------------------------------------------------------------------

    def elements(self) -> str:
        """The elements, each with its findings."""
        entries = self.content.entries
        items = []
        for element in self.content.elements:
            said, held = [], []
            for number in element.numbers:
                entry = entries[number - 1]
                if entry.needs_action:
                    said.append(
                        f'<li><a href="#f{number}">{mark(number, entry.kind)} {TAGS[entry.kind]} '
                        f"<code>{text(entry.rule)}</code></a> {text(entry.message)}</li>"
                    )
                else:
                    held.append(
                        f'<a href="#f{number}" title="{text(entry.rule)}">{number}&nbsp;'
                        f"{TAGS[entry.kind]}</a>"
                    )
            drawn = element.drawn
            drawing = f' · <a href="#d{drawn}">in the drawing</a>' if drawn is not None else ""
            body = f"<ul>{''.join(said)}</ul>" if said else ""
            if held:
                listed = (
                    " ".join(held)
                    if not self.brief
                    else f"and {len(held)} that hold or do not apply"
                )
                body += f'<p class="fine">{listed}</p>'
            items.append(
                f'<div class="element" id="e{element.index}"><h3>{name(element.label)}{drawing} '
                f'<button type="button" hidden data-element="{text(element.label)}">filter the '
                f"findings</button></h3>{body}</div>\n"
            )
        return (
            '<section id="elements"><h2>Elements and their findings</h2>'
            + "".join(items)
            + "</section>"
        )


def _ratio(entry: Entry) -> str:
    return f"{entry.ratio:.2f}" if entry.ratio is not None and entry.graded else ""
