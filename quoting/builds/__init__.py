"""The walls built another way, with price, hours, days and risks beside the build as it stands."""
