"""Parts held by interference."""
