"""What a person does, one file a deed; the store and the clock are handed in."""
