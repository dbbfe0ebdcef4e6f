"""Wrong methods for problems of a tape's condition, beside their slips."""

from math import pi

STEEL = 11.6e-6


def area(girth):
    """Of the circle with a girth."""
    return girth**2 / (4 * pi)


WRONG = {
    "how-far-stretched": {
        "area squared": lambda n: 100 * ((n.girth_cm / n.reading_cm) ** 2 - 1),
        "base: the mean of both": lambda n: (
            200 * (n.girth_cm - n.reading_cm) / (n.girth_cm + n.reading_cm)
        ),
        "base: 100 cm": lambda n: (n.girth_cm - n.reading_cm) / 100,
    },
    "area-by-a-stretched-tape": {
        "cm added for per cent": lambda n: more(n, 1 + n.stretch_percent / n.reading_cm),
        "ten times the per cent": lambda n: more(n, 1 + n.stretch_percent / 10),
        "first order": lambda n: area(n.reading_cm) * n.stretch_percent / 50,
        "divided by 1 − p": lambda n: more(n, 1 / (1 - n.stretch_percent / 100)),
        "divided by 1 − 2p": lambda n: area(n.reading_cm) * (1 / (1 - n.stretch_percent / 50) - 1),
        "minus the per cent": lambda n: -more(n, 1 - n.stretch_percent / 100),
        "area divided once": lambda n: area(n.reading_cm) * (1 - 1 / (1 + n.stretch_percent / 100)),
        "stretch squared": lambda n: area(n.reading_cm) * (n.stretch_percent / 100) ** 2,
    },
    "shrunken-tape": {
        "the girth's share, twice": lambda n: n.reading_cm * n.shrink_percent / 50,
        "a share of the share": lambda n: n.reading_cm * (n.shrink_percent / 100) ** 2,
        "per mille": lambda n: n.reading_cm * n.shrink_percent / 1000,
        "of the area": lambda n: area(n.reading_cm) * n.shrink_percent / 100,
        "as if stretched, undone": lambda n: n.reading_cm * (1 + n.shrink_percent / 100),
    },
    "growth-by-a-worn-tape": {
        "diameter for radius": lambda n: 4 * ring(n, n.growth_cm - n.worn_start_cm),
        "both girths corrected": lambda n: (
            area(n.girth_cm + n.growth_cm - n.worn_start_cm) - area(n.girth_cm - n.worn_start_cm)
        ),
        "pretended growth only": lambda n: (
            area(n.girth_cm + n.growth_cm) - area(n.girth_cm + n.growth_cm - n.worn_start_cm)
        ),
        "first order": lambda n: n.girth_cm * (n.growth_cm - n.worn_start_cm) / (2 * pi),
        "lost piece off twice": lambda n: ring(n, n.growth_cm - 2 * n.worn_start_cm),
    },
    "two-faults-in-one-tape": {
        "per cent of the girth off": lambda n: (
            n.worn_start_cm - n.stretch_percent / 100 * n.girth_cm
        ),
        "the reading itself": lambda n: (
            n.girth_cm / (1 + n.stretch_percent / 100) + n.worn_start_cm
        ),
        "per cent of all off": lambda n: (
            n.worn_start_cm - n.stretch_percent / 100 * (n.girth_cm + n.worn_start_cm)
        ),
        "both added and multiplied": lambda n: (
            (n.girth_cm + n.worn_start_cm) * (1 + n.stretch_percent / 100) - n.girth_cm
        ),
    },
    "steel-in-the-frost": {
        "metres for cm": lambda n: n.girth_cm / 100 * STEEL * (20 - n.temperature_c),
        "of the radius": lambda n: 10 * n.girth_cm * STEEL * (20 - n.temperature_c) / (2 * pi),
        "from 15 degrees": lambda n: 10 * n.girth_cm * STEEL * (15 - n.temperature_c),
    },
    "how-warm-until-it-matters": {
        "mm for cm, the wrong way": lambda n: 20 + 0.005 / (n.girth_cm * STEEL),
        "half a centimetre": lambda n: 20 + 5 / (n.girth_cm * STEEL),
        "20 taken off": lambda n: 0.05 / (n.girth_cm * STEEL) - 20,
    },
}


def more(n, times):
    """By how much the area from the reading grows if that is made so many times longer."""
    return area(n.reading_cm * times) - area(n.reading_cm)


def ring(n, growth):
    """Between a girth and the grown one."""
    return area(n.girth_cm + growth) - area(n.girth_cm)
