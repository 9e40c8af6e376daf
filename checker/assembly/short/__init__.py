"""The short form of a design: types, groups, placements, wires by circuit, straps by rule.

It is an expansion of the document's nodes before the reader sees them: what comes out is the same
design with every element written out, and every key and value still knows where it stands.
``asked.is_short`` says whether a document uses it; a document that does not is left as it is.
"""
