"""What an engine type is, read from a YAML file that a person writes from the service book."""
