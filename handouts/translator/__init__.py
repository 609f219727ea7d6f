"""The translator's pages: source, translation, figure, notes and state side by side; built when asked for."""
