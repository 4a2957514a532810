"""Reads solids with trimesh and prints what it finds, one JSON object a file."""

import json
import sys

import trimesh

for name in sys.argv[1:]:
    scene = trimesh.load(name)
    if isinstance(scene, trimesh.Trimesh):
        bodies = list(scene.split(only_watertight=False))
    else:
        bodies = [body.copy() for body in scene.dump()]
        for body in bodies:
            body.merge_vertices(merge_norm=True, merge_tex=True)
    print(json.dumps({
        "bodies": len(bodies),
        "closed": all(body.is_watertight for body in bodies),
        "one_way": all(body.is_winding_consistent for body in bodies),
        "volume": sum(float(body.volume) for body in bodies),
    }))
