"""Outputs: blocks become drawings and pictures, as bytes; nobody here touches the disk."""
