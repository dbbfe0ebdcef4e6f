"""Numerical problems that check themselves: families, answers as people write them, replies.

Nothing heavy loads here; :mod:`mensura.teaching.problems.bank` finds the families when asked.
"""
