"""How near two numbers have to be to count as equal, in every comparison of the program.

``12 × 2.25`` and ``27`` may differ in the last bit, and so may one length in two units; a limit met
exactly is met however its two sides were reached.
"""

from __future__ import annotations

#: A share of the larger of the two.
EPSILON = 1e-9
