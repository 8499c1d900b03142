"""endfloat: from the service book and the bench to a rebuilt engine with a record."""
