"""From a solved pose to lines and areas: camera, depth, outlines, arrows, head, style."""
