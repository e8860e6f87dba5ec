# %% [markdown]
# # How far in may the right cylinder take hold of the blade?
# Moved inward, the cylinder stands clear of the wheel, but play and oil show more at the edge. Run it cell by cell in
# any editor that knows `# %%`, or whole: `python tests/examples/inward.py` writes `inward.png` beside it.

# %%
from pathlib import Path

import matplotlib.pyplot as plt
import numpy as np

from app import Mount, shipped_mounts, sweep

mount = shipped_mounts()["3-twin-cylinders"]
TOLERANCE = mount.tolerance or 0.0


def moved(inward: float, play: float = 0.4, modulus: float = 1400.0) -> Mount:
    """The mount with its right cylinder that far inward, its eyes that loose and its oil that stiff."""
    slack = mount.with_value("right cylinder / 1.clearance", play).with_value("right cylinder / 2.clearance", play)
    return slack.with_joint("right cylinder / 2", dx=-inward).with_value("oil.bulk_modulus", modulus)


# %% [markdown]
# ## Clearance
# A column of clearances and a row of places broadcast to a grid: a line of the grid is a line of the plot. Farther in
# than the cylinder reaches there is no mount, so no number, so a gap.

# %%
inward = np.linspace(0, 550, 12)
plays = np.array([0.1, 0.4, 0.8])
swept = sweep(moved, inward[None, :], plays[:, None])
worst = np.maximum(swept["budget.left.worst"], swept["budget.right.worst"])

# %% [markdown]
# ## Oil
# The same, over the stiffness of the oil: air in it makes it soft.

# %%
moduli = np.linspace(400, 1600, 9)
grid = sweep(lambda dx, modulus: moved(dx, modulus=modulus), inward[None, :], moduli[:, None])
by_oil = np.maximum(grid["budget.left.worst"], grid["budget.right.worst"])

# %%
figure, (left, right) = plt.subplots(1, 2, figsize=(10, 4), layout="constrained")
for play, line in zip(plays, worst, strict=True):
    left.plot(inward, line, label=f"clearance {play:g} mm")
left.axhline(TOLERANCE, color="black", linestyle="--", label=f"tolerance ±{TOLERANCE:g} mm")
left.set(xlabel="right cylinder inward, mm", ylabel="worst edge error, mm", title="Play in its two eyes")
left.legend()

lines = right.contour(inward, moduli, by_oil, levels=np.arange(2.0, 6.0, 0.25), cmap="viridis")
right.clabel(lines, fmt="%.2f")
right.set(xlabel="right cylinder inward, mm", ylabel="bulk modulus, MPa", title="Worst edge error, mm")
figure.savefig(Path(__file__).with_suffix(".png"), dpi=100)

# %% [markdown]
# Why a number is missing is said by the answer itself.

# %%
for index, reason in list(swept.why("budget.right.worst").items())[:1]:
    print(f"{inward[index[1]]:.0f} mm inward: {reason}")
