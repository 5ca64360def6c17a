"""Motors A and B of the check values, as plain inputs."""

import numpy as np

RPM = np.pi / 30
A = {"resistance": 0.45, "inductance": 3.8e-3, "torque_constant": 4.5 / (5.5 * 2**0.5), "pole_pairs": 50, "current": 5.5 * 2**0.5}
B = {"resistance": 0.9, "inductance": 3.6e-3, "torque_constant": 1.9 / (3.0 * 2**0.5), "pole_pairs": 50, "current": 3.0 * 2**0.5}
SQUARE = 4 / np.pi
