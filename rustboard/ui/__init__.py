"""All Qt and pyqtgraph: the main window and one folder a screen."""
