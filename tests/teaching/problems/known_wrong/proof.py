"""Wrong methods for problems of what the proof says, beside their slips."""

from math import pi, sqrt

from mensura.estimates.out_of_round import classroom_over_percent
from mensura.stems.ellipse import classroom_girth_cm, ellipse_girth_cm


def axes(n):
    """Both half-axes."""
    return n.half_axis_a_cm, n.half_axis_b_cm


def claim(n):
    """What the classroom's proof blames on the tape, in per cent."""
    return classroom_over_percent(n.half_axis_b_cm / n.half_axis_a_cm)


def share(n):
    """((a − b)/(a + b))²."""
    a, b = axes(n)
    return ((a - b) / (a + b)) ** 2


def board(n):
    """The blackboard's girth."""
    return classroom_girth_cm(2 * n.half_axis_a_cm, 2 * n.half_axis_b_cm)


def exact(n):
    """The girth."""
    return ellipse_girth_cm(2 * n.half_axis_a_cm, 2 * n.half_axis_b_cm)


def series(n, h):
    """The series of the girth with some h."""
    return pi * sum(axes(n)) * (1 + h / 4 + h**2 / 64)


WRONG = {
    "classroom-claim": {
        "wrong base": lambda n: 100 * claim(n) / (100 + claim(n)),
        "the ratio": lambda n: 100 + claim(n),
        "over the square of the mean": lambda n: 200 * share(n),
        "a² − b²": lambda n: 50 * (axes(n)[0] ** 2 - axes(n)[1] ** 2) / (axes(n)[0] * axes(n)[1]),
        "of the girth": lambda n: 100 * (sqrt(1 + claim(n) / 100) - 1),
    },
    "blackboard-girth": {
        "h not squared": lambda n: board(n) - series(n, sqrt(share(n))),
        "the girth itself": board,
        "h over a": lambda n: board(n) - series(n, (1 - axes(n)[1] / axes(n)[0]) ** 2),
        "half of the distance to the least": lambda n: (board(n) - pi * sum(axes(n))) / 2,
        "against the root of the product": lambda n: (
            board(n) - 2 * pi * sqrt(axes(n)[0] * axes(n)[1])
        ),
    },
    "at-least-so-much": {
        "the tape's area": lambda n: pi * sum(axes(n)) ** 2 / 4,
        "half-axes taken for diameters": lambda n: pi * (axes(n)[0] - axes(n)[1]) ** 2 / 16,
        "a² − b²": lambda n: pi * (axes(n)[0] ** 2 - axes(n)[1] ** 2) / 4,
        "the true area": lambda n: pi * axes(n)[0] * axes(n)[1],
    },
    "how-oval-may-it-be": {
        "a under the line": lambda n: n.half_axis_a_cm * (1 - sqrt(n.allowed_percent / 50)),
        "no root": lambda n: n.half_axis_a_cm * (1 - n.allowed_percent / 50),
        "divided by 1 + p": lambda n: n.half_axis_a_cm / (1 + n.allowed_percent / 100),
        "b under the line": lambda n: n.half_axis_a_cm / (1 + sqrt(n.allowed_percent / 50)),
        "the difference": lambda n: (
            n.half_axis_a_cm
            * (
                sqrt((n.allowed_percent / 100) ** 2 + n.allowed_percent / 50)
                - n.allowed_percent / 100
            )
        ),
        "root of the share": lambda n: n.half_axis_a_cm * (1 - sqrt(n.allowed_percent / 100)),
    },
}
