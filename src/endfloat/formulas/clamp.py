"""What becomes of a clamp load: embedding, heat, head pressure, stripping, neighbours."""
