"""The screen of weather and exposure."""
