"""The posing bench: a figure's text changed by hand, slider or drag, and what comes out of it.

The text of the figure is all the state there is: each request brings it, each answer gives it back with what was changed.
Rooms above serve it and write the file; nothing here touches the disk.
"""
