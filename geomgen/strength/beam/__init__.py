"""A beam that is carried round: bent and twisted by finite elements, at rest and at speed."""
