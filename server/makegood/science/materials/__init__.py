"""Parts of the material sums: coats, batches, solids, shopping, and the shapes that the estimate takes and
gives.
"""
