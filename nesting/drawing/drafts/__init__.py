"""The pieces as they are written down, small and to scale, with every name and length of the file."""
