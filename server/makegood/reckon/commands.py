"""The command `makegood reckon`: which sums there are, how they are asked for, and the one shape of answers and refusals."""

import argparse
import json
import math
import re
import sys
from collections.abc import Callable, Mapping, Sequence
from typing import NoReturn

from makegood.errors import BadInput, MakegoodError
from makegood.reckon.given import STANDARD_INPUT, Given, read_json
from makegood.reckon.printing import written

Answer = dict[str, object]


def _area(given: Given, _args: argparse.Namespace) -> Answer:
    from makegood.reckon.surfaces import area

    return area(given)


def _yield(given: Given, _args: argparse.Namespace) -> Answer:
    from makegood.reckon.mixing import yield_of

    return yield_of(given)


def _estimate(given: Given, _args: argparse.Namespace) -> Answer:
    from makegood.reckon.repair import estimate_repair

    return estimate_repair(given)
