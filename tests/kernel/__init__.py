"""A solid-modelling kernel as outside reference for the projection: its exact views of the same features, compared."""
