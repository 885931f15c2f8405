"""Outputs: blocks become drawings and pictures. Everything here turns values into bytes; nobody touches the disk."""
