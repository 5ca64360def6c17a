"""The cut: engagement, chips, forces, and how tool and machine answer them."""
