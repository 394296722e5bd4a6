"""The altitudes that everybody agrees on, in one place; knows nothing else, so anybody may ask.

Rising and setting as the US Naval Observatory defines them (*Explanatory Supplement to the
Astronomical Almanac*, ch. 14): 34′ of refraction at the horizon, 50′ with the Sun's mean
semidiameter. Twilights end with the Sun's centre 6°, 12° and 18° down.
"""

HORIZON_REFRACTION_DEG = 34.0 / 60.0
SUN_LIMB_DEG = 0.8333
SUN_UP_DEG = -SUN_LIMB_DEG  # airless altitude of its centre with the upper limb at the horizon
CIVIL_DEG, NAUTICAL_DEG, ASTRONOMICAL_DEG = -6.0, -12.0, -18.0
# Nearer to the risen Sun nothing is shown, offered or searched for without a caution (common
# practice, no source): a sweep that misses by a fist or two must not end in the Sun.
SUN_DANGER_DEG = 20.0
