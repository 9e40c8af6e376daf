"""Paths, bends, distances and places in plain numbers: inches and degrees, no records, no tables.

A point is (across, up, depth), depth measured from the front face of the framing.
"""
