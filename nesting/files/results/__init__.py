"""What was worked out, written down: lists, data, and results kept between runs."""
