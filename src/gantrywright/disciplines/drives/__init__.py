"""Linear drives: torque, speed, stiffness, accuracy, life, and whether an upright axis falls."""
