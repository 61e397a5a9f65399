"""Lays and pieces at true size: on sheets to be joined, on a roll, as SVG."""
