"""One module a feature kind; the catalogue beside this folder finds them."""
