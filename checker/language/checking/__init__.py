"""How each part of an expression gets its type, and what is told where it cannot have one."""
