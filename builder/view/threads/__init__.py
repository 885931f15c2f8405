"""One module a thread style; the catalogue beside this folder finds them."""
