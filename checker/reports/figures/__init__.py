"""The drawings of a report, as SVG text."""
