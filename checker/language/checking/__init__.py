"""How each part of an expression gets its type, and what is reported where it cannot have one."""
