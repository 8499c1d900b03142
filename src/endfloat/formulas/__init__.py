"""The sums of the trade: pure functions in SI, keyword-only, floats or arrays that broadcast."""
