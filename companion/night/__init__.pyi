from .choose.candidates import Candidates as Candidates
from .choose.filters import Filters as Filters, kinds_named as kinds_named
from .choose.reasons import Reason as Reason, reason_text as reason_text
from .choose.rounds import ROUNDS as ROUNDS, Round as Round, round_tonight as round_tonight
from .choose.tonight import (
    Tonight as Tonight,
    TonightRequest as TonightRequest,
    TonightRow as TonightRow,
    rank_tonight as rank_tonight,
)
from .choose.worth import WorthFor as WorthFor
from .eye_sky import EyeSky as EyeSky, eye_sky as eye_sky
from .hours.darkness import Darkness as Darkness, Twilights as Twilights, darkness as darkness
from .hours.grid import NightGrid as NightGrid, Track as Track, night_grid as night_grid
from .hours.horizon_import import (
    ImportedHorizon as ImportedHorizon,
    read_horizon as read_horizon,
    read_horizon_file as read_horizon_file,
)
from .hours.horizon_line import HorizonLine as HorizonLine
from .hours.my_hours import MyHours as MyHours
from .hours.plan import Curve as Curve, NightPlan as NightPlan, plan_night as plan_night
from .lists.export import (
    order_calendar as order_calendar,
    order_csv as order_csv,
)
from .lists.reader import (
    ImportedList as ImportedList,
    ListEntry as ListEntry,
    read_list as read_list,
)
from .lists.text_file import LIST_LIMITS as LIST_LIMITS
from .order.order import (
    Lost as Lost,
    NightOrder as NightOrder,
    PlannedStop as PlannedStop,
    order_plans as order_plans,
    order_queue as order_queue,
)
from .order.session import Blocked as Blocked, Session as Session, Wish as Wish
from .order.words import Loss as Loss
from .progress import Cancelled as Cancelled, Progress as Progress
from .sight.grades import Grade as Grade
from .sight.instruments import (
    eye as eye,
    find_instrument as find_instrument,
    ready_instruments as ready_instruments,
)
from .sight.observer import Conditions as Conditions, Observer as Observer, Practice as Practice
from .sight.scales import (
    BRIGHTEST_LIMIT as BRIGHTEST_LIMIT,
    bortle_class as bortle_class,
    naked_eye_limit as naked_eye_limit,
    zenith_brightness as zenith_brightness,
)
from .sight.skylight import Lights as Lights, sky_light as sky_light
from .sight.star_limit import star_limit as star_limit
from .sight.views import View as View, views_of as views_of
from .sight.visibility import Visibility as Visibility
