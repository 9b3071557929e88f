"""Published standards, one module per standard and edition, one short function per clause."""
