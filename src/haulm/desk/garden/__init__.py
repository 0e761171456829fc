"""The garden as it is told: opened, typed, changed, carried to and fro, kept safe."""
