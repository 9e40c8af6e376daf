"""The event parser in pure Python, for where PyYAML lacks libyaml. Ten times slower."""

from __future__ import annotations

from yaml.parser import Parser
from yaml.reader import Reader
from yaml.scanner import Scanner


class PureParser(Reader, Scanner, Parser):
    """Events of a text; the same ``get_event`` as libyaml's parser."""

    def __init__(self, text: str) -> None:
        Reader.__init__(self, text)
        Scanner.__init__(self)
        Parser.__init__(self)
