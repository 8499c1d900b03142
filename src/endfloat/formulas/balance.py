"""Rod ends, bob weight, shaking orders of a layout, two-plane correction, residual unbalance by grade."""
