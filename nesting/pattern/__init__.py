"""What is cut: pieces as measured off the paper, their counts, and the shape to cut."""
