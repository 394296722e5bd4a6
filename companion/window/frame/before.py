"""What to think of before a night outdoors; common practice, no source."""

BEFORE_YOU_GO_OUT = """\
COLD  Standing still you lose warmth: dress for ten degrees less than it is, keep feet, head and \
hands dry, drink something hot. Go in when you shiver or fumble.
ALONE  Tell somebody where you are and when you will be back; take a charged telephone and a light.
THE WAY  Look at the place by day. Mind cables, tripod legs, ladders, ice and edges in the dark; \
stay off roads, and be seen by cars where you come near one.
WILDLIFE  Keep food closed, make some noise, leave animals their way; learn what lives there.
LIGHTNING  At the first thunder take the telescope down and go into a house or a car.
THE SUN  Never point a tube, a finder or binoculars near the Sun, nor leave them to visitors by \
day. A glance blinds, at once and for good. Use only filters made for it, over the front.
LASERS  Never at or near aircraft, people or animals; many places forbid them. Follow the \
local rules.
BATTERIES  They hold half as long in the cold: carry a second one near the body.
VISITORS  Say where the steps are before the lights go out; children look from a firm stool, held.
THE PLACE  Ask whoever owns it, follow its rules, take everything home.
Licensed guides, wardens and the law of the place come before anything that is said here."""
