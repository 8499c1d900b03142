"""How fits change with temperature."""
