"""Reads a line as it stands on the board into sympy, for the tests: what is read must be meant.

A reader of its own, which shares nothing with the package but the letters: sums, products without a
sign, ², √, sin² 2θ, ∫ … dt over a turn, Σ over n from 1, limits "→ … as b → a", "at θ = …°".
"""

import re

import sympy as sp

from mensura.teaching.proof.symbols import letters

TOKEN = re.compile(
    r"\s*(A_tape|A_cal|A_hull|hollows|w₁|w₂|c₀|p_n|q_n|h′|h\(φ \+ π\)|h\(φ\)"
    r"|(?:sin|cos)²? ?\d*n?[θφt](?![a-z])|d/dθ|d[tθφ]|\d+|[√∫Σ½²…()+−/=]|[abPGAhwntπθφ])"
)
SIGNS = {"=": "eq", "≠": "ne", ">": "gt", "≥": "ge", "≤": "le"}


class Board:
    """One line's reader. hull: whether h is the support function."""

    def __init__(self, hull, odd):
        self.s, self.hull, self.odd = letters(), hull, odd

    def expression(self, text):
        self.tokens, place = [], 0
        while place < len(text.rstrip()):
            match = TOKEN.match(text, place)
            assert match, f"cannot read {text[place:]!r}"
            self.tokens.append(match[1])
            place = match.end()
        found = self.sum()
        assert not self.tokens, f"left over: {self.tokens}"
        return found

    def next(self, *wanted):
        if self.tokens and self.tokens[0] in wanted:
            return self.tokens.pop(0)
        return None

    def sum(self):
        total = self.product()
        while sign := self.next("+", "−"):
            part = self.product()
            total = total + part if sign == "+" else total - part
        return total

    def product(self):
        if self.next("Σ"):
            return self.series(self.product())
        total = self.power()
        while self.tokens and self.tokens[0] not in ("+", "−", ")", "dt", "dθ", "dφ"):
            if self.next("Σ"):
                return total * self.series(self.product())
            total = total / self.power() if self.next("/") else total * self.power()
        return total

    def series(self, term):
        s = self.s
        if self.odd:
            return s.Sum(term.subs(s.n, 2 * s.k + 1), (s.k, 0, s.oo))
        return s.Sum(term, (s.n, 1, s.oo))

    def power(self):
        base = self.atom()
        return base**2 if self.next("²") else base

    def atom(self):
        s, token = self.s, self.tokens.pop(0)
        if token == "(":
            inside = self.sum()
            assert self.next(")")
            return inside
        if token == "√":
            return sp.sqrt(self.atom())
        if token == "∫":
            inside = self.product()
            angle = {"dt": s.t, "dθ": s.theta, "dφ": s.phi}[self.tokens.pop(0)]
            return s.turn(inside, angle)
        if token == "d/dθ":
            return sp.Derivative(self.atom(), s.theta)
        if wave := re.fullmatch(r"(sin|cos)(²?) ?(\d*)(n?)([θφt])", token):
            angle = {"θ": s.theta, "φ": s.phi, "t": s.t}[wave[5]]
            inside = int(wave[3] or 1) * (s.n if wave[4] else 1) * angle
            return getattr(sp, wave[1])(inside) ** (2 if wave[2] else 1)
        if token.isdigit():
            return sp.Integer(token)
        support = s.support(s.phi)
        named = {
            **{"w₁": s.w1, "w₂": s.w2, "c₀": s.c0, "p_n": s.p[s.n], "q_n": s.q[s.n]},
            **{"½": s.half, "π": s.pi, "θ": s.theta, "φ": s.phi, "…": sp.Order(s.h**3)},
            **{"h(φ)": support, "h(φ + π)": s.support(s.phi + s.pi)},
            **{"h′": sp.Derivative(support, s.phi), "h": support if self.hull else s.h},
        }
        return named[token] if token in named else vars(s)[token]

    def side(self, text):
        """A side, with "mean over θ of" before it or not."""
        if mean := re.match(r"mean over ([θφ]) of ", text):
            angle = self.s.theta if mean[1] == "θ" else self.s.phi
            return self.s.turn(self.expression(text[mean.end() :]), angle) / (2 * self.s.pi)
        return self.expression(text)


def read_board(line, hull=False):
    """The relation that a line says. hull: whether h is the support function."""
    line, _, remark = line.partition(", ")
    assert remark in ("", "n odd", "h = ((a − b)/(a + b))²")
    board = Board(hull, remark == "n odd")
    s = board.s
    if limit := re.fullmatch(r"(.+) → (.+) as b → a", line):
        return s.eq(sp.Limit(board.side(limit[1]), s.b, s.a), board.side(limit[2]))
    line, _, place = line.partition(" at θ = ")
    (sign,) = set(line) & set(SIGNS)
    left, right = (board.side(part.strip()) for part in line.split(sign))
    if place:
        angle = sp.nsimplify(place.rstrip("°"), rational=True) * s.pi / 180
        left = sp.Subs(left, s.theta, angle)
    return vars(s)[SIGNS[sign]](left, right)
