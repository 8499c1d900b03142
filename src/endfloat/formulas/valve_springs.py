"""Rate, loads, coil bind and surge of valve springs."""
