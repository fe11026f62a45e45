"""The invented Tolmarren wreck as a project."""
