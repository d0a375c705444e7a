"""Sites of an invented plant as the record's rules see them: two lines, stops, isolation, a table on no line."""

from datetime import datetime
from zoneinfo import ZoneInfo

from swabwright.plant.sites import Stop
from swabwright.record.ground import Ground, SiteAsks

NOTHING = Stop(
    needs_line_stop=False, needs_isolation=False, mechanic=False, minutes_down=0, reclean_before_restart=False
)
STANDING = NOTHING.model_copy(update={"needs_line_stop": True})
ISOLATED = NOTHING.model_copy(update={"needs_line_stop": True, "needs_isolation": True})
NIGHT = (datetime.fromisoformat("2026-03-05T21:00:00+01:00"), datetime.fromisoformat("2026-03-06T05:00:00+01:00"))

GROUND = Ground(
    {
        "S001": SiteAsks(1, "slicing", NOTHING, ISOLATED),
        "S002": SiteAsks(1, "packing", NOTHING, NOTHING),
        "S003": SiteAsks(1, None, NOTHING, NOTHING),
        "S004": SiteAsks(2, "slicing", STANDING, ISOLATED),
        "S005": SiteAsks(2, "slicing", NOTHING, ISOLATED),
        "S006": SiteAsks(3, None, STANDING, STANDING),
    },
    (NIGHT,),
    ZoneInfo("Europe/Paris"),
)
