"""Pullpoint: checks prefabricated electrical assemblies against declarative, sourced rules."""

__version__ = "0.1.0"
