"""Unit factors. Documents, engine and answers use mm, N, MPa, kg, degrees and mL; only the page shows inches.

Exact by definition: the 1959 yard and pound agreement and NIST Special Publication 811, appendix B.
"""

MM_PER_INCH = 25.4
KG_PER_POUND = 0.45359237
STANDARD_GRAVITY = 9.80665
"""m/s2, by definition; N of weight per kg of mass."""

NEWTON_PER_LBF = KG_PER_POUND * STANDARD_GRAVITY
MPA_PER_PSI = NEWTON_PER_LBF / MM_PER_INCH**2

MM3_PER_ML = 1000.0
