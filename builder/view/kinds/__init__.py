"""View kinds, a module for each way of looking; the catalogue beside this folder finds them."""
