"""Drawing on paper: text, tables, photos, walls and plots on tagged PDF pages."""
