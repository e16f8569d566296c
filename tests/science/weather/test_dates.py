"""Times as stations write them; Python's own strptime reads the same forms (a reference library)."""

from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from makegood.science.weather.dates import DAY_FIRST, MONTH_FIRST, YEAR_FIRST, order_of, read_time

FORMS = {
    DAY_FIRST: ("%d/%m/%Y %H:%M", "%d.%m.%Y %H:%M:%S", "%d-%m-%Y %I:%M %p"),
    MONTH_FIRST: ("%m/%d/%Y %H:%M", "%m/%d/%Y, %I:%M:%S %p"),
}
CASES = [(order, form) for order, forms in FORMS.items() for form in forms]
TIMES = st.datetimes(datetime(1900, 1, 1), datetime(2100, 1, 1)).map(lambda at: at.replace(second=0, microsecond=0))


@pytest.mark.parametrize(("order", "form"), CASES)
@given(at=TIMES)
def test_what_strptime_reads_is_read_alike(order, form, at):
    text = at.strftime(form)
    assert read_time(text, order) == datetime.strptime(text, form)


@given(at=TIMES, order=st.sampled_from([YEAR_FIRST, DAY_FIRST, MONTH_FIRST]))
def test_the_year_first_is_read_in_any_order(at, order):
    assert read_time(at.isoformat(" "), order) == at


NO_TIMES = [
    "", "31/02/2026 10:00", "14/13/2026 10:00", "1/2/26 10:00", "1/2-2026 10:00", "1/2/2026", "1/2/2026 25:00",
    "1/2/2026 13:00 PM", "noon",
]  # fmt: skip


@pytest.mark.parametrize("text", NO_TIMES)
def test_what_is_no_time_is_not_read(text):
    assert read_time(text, DAY_FIRST) is None


def test_without_leave_the_day_is_never_guessed():
    assert read_time("01/02/2026 10:00", YEAR_FIRST) is None


@pytest.mark.parametrize(
    ("texts", "told"),
    [
        (["2026-03-01 10:00"], (YEAR_FIRST, True)), ([], (YEAR_FIRST, True)),
        (["01/02/2026 10:00", "02/02/2026 10:00"], (DAY_FIRST, False)),
        (["12/12/2026 10:00", "13/12/2026 10:00"], (DAY_FIRST, True)),
        (["12/12/2026 10:00", "12/13/2026 10:00"], (MONTH_FIRST, True)),
    ],
)  # fmt: skip
def test_a_number_above_twelve_tells_day_from_month(texts, told):
    assert tuple(order_of(texts)) == told
