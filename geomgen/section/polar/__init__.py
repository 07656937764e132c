"""What a section does in the air: its forces as others ask for them, and the records that answer."""
