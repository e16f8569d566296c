"""`reckon endurance` and `reckon erosion`: how long finishes hold, and how fast they wear."""

from datetime import date
from math import inf

from makegood.errors import BadInput
from makegood.reckon.given import Given, bad, is_number, missing
from makegood.science.endurance import Survival, interval_curve, log_rank, survival
from makegood.science.erosion import READING_ERROR_MM, DatedDepth, Wear, erosion

# The search for the masses stops when no more than this is sure.
MASS_DIGITS = 8
Followed = tuple[list[float], list[bool]]


def endurance(given: Given) -> dict[str, object]:
    """Return a survival curve of `durations` and `observed`, or the support and mass of `intervals`."""
    intervals = given.sequence("intervals")
    if (intervals is None) == (given.value("durations") is None):
        raise missing("durations", "Give either durations with observed, or intervals.")
    if intervals is not None:
        return _over_intervals(intervals, given)
    followed, against = _followed(given), given.part("against")
    curve = _curve(survival(*followed))
    if against is None:
        return curve
    other = _followed(against)
    return {**curve, "against": _curve(survival(*other)), "log_rank": log_rank(followed, other)._asdict()}


def _followed(given: Given) -> Followed:
    durations, observed = given.numbers("durations"), given.sequence("observed")
    if durations is None or observed is None:
        raise missing(
            "observed",
            "Say for each duration whether it ended in failure: observed, a list of true or false.",
        )
    if not all(value in (0, 1, True, False) and isinstance(value, int) for value in observed):
        raise bad("observed", "Give observed as a list of true (failed) or false (still sound).")
    return durations, [bool(value) for value in observed]


def _curve(curve: Survival) -> dict[str, object]:
    return {
        "at": [moment.at for moment in curve.moments],
        "survival": [moment.survival for moment in curve.moments],
        "standard_error": [moment.standard_error for moment in curve.moments],
        "followed": [moment.followed for moment in curve.moments],
        "failed": [moment.failed for moment in curve.moments],
        "median": curve.median,
        "followed_in_all": curve.followed,
        "failed_in_all": curve.failed,
        "warnings": ["too_few"] if curve.too_few else [],
    }


def _over_intervals(intervals: list[object], given: Given) -> dict[str, object]:
    curve = interval_curve(
        [_interval(one) for one in intervals], given.numbers("weights"), given.flag("sound_at_left")
    )
    return {
        "support": [[left, None if right == inf else right] for left, right in curve.support],
        "mass": [round(share, MASS_DIGITS) for share in curve.mass],
        "followed_in_all": curve.followed,
        "failed_in_all": curve.failed,
        "warnings": [
            *(["too_few"] if curve.too_few else []),
            *([] if curve.converged else ["not_converged"]),
        ],
    }


def _interval(value: object) -> tuple[float, float | None]:
    if isinstance(value, list) and len(value) == 2:
        left, right = value
        if is_number(left) and left >= 0 and (right is None or is_number(right)):
            return left, right
    raise bad(
        "intervals", "Give each interval as [last seen sound, first seen failed], or [last seen sound, null]."
    )


def erode(given: Given) -> dict[str, object]:
    """Return rates, remaining cover and time to breach of dated `depths`; see `makegood.science.erosion`."""
    looks = [_look(one) for one in given.parts("depths") or []]
    laid_on = given.day("laid_on")
    if laid_on is not None:
        looks.append(DatedDepth(laid_on, 0.0, 0.0))
    error_mm = given.number("reading_error_mm")
    reckoned = erosion(
        looks,
        given.needed("coat_mm", "coat_thickness_mm"),
        given.number("last_storm_l_m2"),
        READING_ERROR_MM if error_mm is None else error_mm,
    )
    deepest = _wear(reckoned.deepest)
    return {
        "mean": _wear(reckoned.mean),
        "deepest": deepest,
        "breached": reckoned.breached,
        "years_to_breach": deepest["years"],
        "doses_to_breach": deepest["doses"],
        "warnings": reckoned.warnings,
    }


def _look(given: Given) -> DatedDepth:
    on: date | None = given.day("on", "date")
    if on is None:
        raise missing("on", "Give each depth its date: on.")
    mean_mm, deepest_mm = given.needed("mean_mm", "depth_mean_mm"), given.needed("deepest_mm", "depth_max_mm")
    l_m2, unknown = given.number("l_m2"), given.unread()
    if unknown:
        say = "A depth has on, mean_mm, deepest_mm and l_m2, no more."
        raise BadInput("unknown_field", say, {"depths": unknown[0]})
    return DatedDepth(on, mean_mm, deepest_mm, l_m2)


def _wear(wear: Wear) -> dict[str, object]:
    return {
        "mm_per_year": wear.mm_per_year,
        "mm_per_l_m2": wear.mm_per_l_m2,
        "remaining_mm": wear.left_mm,
        "years": wear.years and wear.years._asdict(),
        "doses": wear.doses and wear.doses._asdict(),
    }
