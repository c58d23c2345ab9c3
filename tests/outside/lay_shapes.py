"""What the scripts that look at lays of garments with shapely share."""


def thickness(shape):
    """How thick a region is: twice its area over its girth, the greatest of its parts."""
    parts = getattr(shape, "geoms", [shape])
    return max((2 * part.area / part.length for part in parts if part.length > 0 and part.area > 0), default=0.0)


def determinant(into):
    return into[0] * into[3] - into[1] * into[2]
