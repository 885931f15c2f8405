"""A part's body: features stacked along the X axis, lowered to solids that every view can question."""
