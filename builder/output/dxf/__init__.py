"""DXF: blocks become single files and collections. The only importers of ezdxf in the project."""
