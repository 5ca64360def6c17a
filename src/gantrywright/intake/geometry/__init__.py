"""Boxes, faces, directions and guides: what recipes and placing both speak of."""
