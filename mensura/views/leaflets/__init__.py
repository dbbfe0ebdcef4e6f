"""Leaflets: workbooks and lessons as single pages that need no network, to print and to look at."""
