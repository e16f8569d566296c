"""What the guide says, in both languages: the same keys, the same steps for each kind of device."""

from collections.abc import Mapping
from dataclasses import dataclass

# Kinds of device, in the order in which the guide shows them.
KINDS = ("android", "iphone", "laptop")


@dataclass(frozen=True)
class Step:
    """One step: what to do, and the screen it is done on, its lines as they stand there, the one to tap."""

    says: str
    screen: str
    lines: tuple[str, ...]
    tap: int


@dataclass(frozen=True)
class Book:
    """The guide's sentences in one language; `steps` and `removal` by kind of device."""

    sentences: Mapping[str, str]
    steps: Mapping[str, tuple[Step, ...]]
    removal: Mapping[str, str]
