"""How the pictures of the demo site are drawn: wall textures, damage by kind, light, camera files."""
