"""XML in, safely: no document type, so no entities of its own and nothing fetched; bounded in size, depth and count."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Final
from xml.parsers import expat

from league.engines.documents.reading import BadDocument, Fault

__all__ = ["MOST_XML_BYTES", "Element", "parse_xml"]

MOST_XML_BYTES: Final = 5 * 1024 * 1024
MOST_DEPTH: Final = 30
MOST_ELEMENTS: Final = 200_000


@dataclass(kw_only=True, slots=True)
class Element:
    """`name` without its namespace; `line` is where it begins; `text` all the text directly inside."""

    name: str
    namespace: str
    line: int
    attributes: dict[str, str]
    children: list[Element] = field(default_factory=list)
    text: str = ""

    def named(self, name: str) -> Iterator[Element]:
        return (each for each in self.children if each.name == name)

    @property
    def place(self) -> str:
        return f"line {self.line}"


class _Refused(Exception):
    pass


def parse_xml(data: bytes) -> Element:
    """The root element.

    Raises:
        BadDocument: it is no XML, has a document type, or is larger or deeper than anything of ours.
    """
    if len(data) > MOST_XML_BYTES:
        raise BadDocument([Fault(place="", text=f"The document is larger than {MOST_XML_BYTES // 1024**2} MB.")])
    building = _Building()
    try:
        building.parser.Parse(data, True)
    except _Refused as refused:
        raise BadDocument([Fault(place=f"line {building.parser.CurrentLineNumber}", text=str(refused))]) from None
    except (expat.ExpatError, UnicodeError, ValueError, LookupError) as failure:
        words = str(failure).split(":")[0]
        raise BadDocument([Fault(place="", text=f"The document is not XML: {words}.")]) from None
    return building.root


class _Building:
    def __init__(self) -> None:
        self.parser = expat.ParserCreate(namespace_separator="}")
        self.parser.buffer_text = True
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._text
        self.parser.StartDoctypeDeclHandler = self._doctype
        self.open: list[Element] = []
        self.elements = 0
        self.root = Element(name="", namespace="", line=0, attributes={})

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self.elements += 1
        if self.elements > MOST_ELEMENTS or len(self.open) >= MOST_DEPTH:
            raise _Refused("The document has more parts, or parts in parts, than any map of ours.")
        space, _, local = name.rpartition("}")
        made = Element(name=local, namespace=space, line=self.parser.CurrentLineNumber, attributes=attributes)
        if self.open:
            self.open[-1].children.append(made)
        else:
            self.root = made
        self.open.append(made)

    def _end(self, _name: str) -> None:
        self.open.pop()

    def _text(self, text: str) -> None:
        self.open[-1].text += text

    @staticmethod
    def _doctype(*_facts: object) -> None:
        raise _Refused("The document declares a document type, which may hide more than it shows; take it out.")
