"""What is machined and what renewed, so that every fit comes within limits together. It owns no physics."""
