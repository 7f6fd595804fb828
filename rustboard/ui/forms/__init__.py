"""What dialogs and panels share: fields, forms, tables, numbers."""
