"""The tree of tags in a PDF, so that a screen reader finds headings, paragraphs, tables and what pictures show.

The PDF library tags pictures only, in a flat list it counts through for each new one; this tree nests, and counts once.
"""

from collections import Counter
from collections.abc import Iterator
from typing import Any

from fpdf.structure_tree import StructElem, StructureTreeBuilder
from fpdf.syntax import PDFArray, PDFObject


class _Kids(PDFArray):
    """The document's own children; walked through it gives their children too, as the library asks for all at once."""

    def __init__(self) -> None:
        super().__init__()
        self.deep: list[StructElem] = []

    def __iter__(self) -> Iterator[StructElem]:
        return iter(self.deep)

    def serialize(self, *args: Any, **kwargs: Any) -> str:
        """Write only the document's own children."""
        own = [one for one in self.deep if isinstance(one.p, StructElem) and one.p.s == "/Document"]
        return PDFArray(own).serialize(*args, **kwargs)


class TagTree(StructureTreeBuilder):
    """A tree of tags that may nest: tables hold rows, rows hold cells."""

    def __init__(self) -> None:
        super().__init__()
        self._kids = _Kids()
        self.doc_struct_elem.k = self._kids
        self._marks: Counter[int] = Counter()

    def grow(self, kind: str, page: int, under: StructElem | None = None, alt: str | None = None) -> StructElem:
        """Add a branch, say a table or one of its rows."""
        elem = StructElem(f"/{kind}", under or self.doc_struct_elem, [], page_number=page, alt=alt)
        self._kids.deep.append(elem)
        if under is not None:
            under.k.append(elem)
        return elem

    def leaf(self, kind: str, page: int, under: StructElem | None = None, alt: str | None = None) -> tuple[int, int]:
        """Add a leaf for what is drawn next on a page; return its mark on that page and the page's own number."""
        elem = self.grow(kind, page, under, alt)
        mark = self._marks[page]
        self._marks[page] += 1
        elem.k.append(mark)
        place = self.spid_per_page_number.setdefault(page, len(self.spid_per_page_number))
        self.struct_tree_root.parent_tree.nums[place].append(elem)
        return mark, place

    def empty(self) -> bool:
        """Tell whether nothing was tagged."""
        return not self._kids.deep

    def __iter__(self) -> Iterator[PDFObject]:
        yield self.struct_tree_root
        yield self.doc_struct_elem
        yield self.struct_tree_root.parent_tree
        yield from self._kids.deep
