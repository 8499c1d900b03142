"""Three-angle seats, and what their cutting does to the valve train."""
