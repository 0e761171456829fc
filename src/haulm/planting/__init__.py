"""Plants into bed outlines: rows, stations and a measure one can follow with a tape."""
