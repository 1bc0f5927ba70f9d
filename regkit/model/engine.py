"""The version of this library, which every assessment records."""

ENGINE = "0.2.0"
