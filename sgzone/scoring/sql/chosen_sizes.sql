-- The chosen rounds in their order, without names: those would take most of the memory.
SELECT round_key, round_place, strokes, holes FROM chosen_rounds ORDER BY round_place
