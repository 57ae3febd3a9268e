"""What becomes of the gathered facts: one plan a table, grouped as the trade groups them."""

from table_plans import assembly, heads, materials, strength, threads, wrenches

PLANS = (
    *threads.PLANS,
    *strength.PLANS,
    *heads.PLANS,
    *materials.PLANS,
    *assembly.PLANS,
    *wrenches.PLANS,
)
