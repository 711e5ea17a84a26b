"""What reports tell of markers in use at once, as the needs of a table that is still to be played take it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from league.battles.models import Report
from league.clubs.models import Club
from league.engines.kit.needs import Peak
from league.engines.kit.stock import MOST_PEAK, Prior, per_table, triangular
from league.engines.rulesets import Ruleset

__all__ = ["FEWEST_REPORTS", "peaks_for", "reported_peaks", "usual_prior"]

# Fewer than one marker a unit is usual, and sides have about eight units: common practice, no source.
LEAST, USUAL, MOST, WORTH = 0, 8, 16, 6
# Before there are as many reports as the prior is worth, the ruleset's own rule says how many.
FEWEST_REPORTS: Final = WORTH
ENOUGH: Final = Fraction(95, 100)


def usual_prior() -> Prior:
    words = _("0 to 16 markers on a table, most often about 8: common practice, no source.")
    return triangular(least=LEAST, usual=USUAL, most=MOST, worth=WORTH, words=words)


def reported_peaks(club: Club) -> dict[int, list[int]]:
    """The most markers in use at once, by ruleset, of every current report that tells it: one query."""
    told = Report.objects.current().filter(game__club=club, markers_peak__isnull=False, markers_peak__lte=MOST_PEAK)
    peaks: defaultdict[int, list[int]] = defaultdict(list)
    for ruleset, peak in told.order_by("pk").values_list("game__edition__ruleset", "markers_peak"):
        if peak is not None:
            peaks[ruleset].append(peak)
    return dict(peaks)


def peaks_for(rules: Ruleset, reports: Sequence[int]) -> tuple[Peak, ...]:
    """How many of its markers one table of the ruleset is given: enough in 95 of 100 games by the reports.

    Reports count the markers of a whole table together, so it is the ruleset's first need of markers that the sides do
    not tell apart.
    """
    need = next((each for each in rules.kit.needs if each.per == "markers" and each.sharing != "apart"), None)
    if need is None or len(reports) < FEWEST_REPORTS:
        return ()
    count = per_table(list(reports), prior=usual_prior()).enough_for(1, ENOUGH)
    words = ngettext(
        "By %(reports)s report, %(count)s are enough at once in 95 games of 100.",
        "By %(reports)s reports, %(count)s are enough at once in 95 games of 100.",
        len(reports),
    )
    return (Peak(need=need.key, count=count, why=words % {"reports": len(reports), "count": count}),)
