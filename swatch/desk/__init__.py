"""State and decisions of the window, one object a place; jobs; table models. Desks never import each other."""
