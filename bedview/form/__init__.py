"""The resting shape in space: fabric graph, first placing, relaxation and mesh."""
