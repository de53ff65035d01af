"""The package in a Node-RED that has settings of its own: those that README.md gives."""

import re

from expected import expect, order
from system import PLANT, SOURCE, Front, PlantSystem


def in_another(node_red: str, front: Front) -> None:
    """An order becomes control recipes by the flow of the package, with the settings of README.md."""
    user = PLANT.parent.parent
    page = (SOURCE / "README.md").read_text()
    settings = user / "settings.js"
    settings.write_text(re.search(r"```js\n(.*?)```", page, re.S)[1])
    plant = PlantSystem(node_red, front, str(user))
    own = ["--settings", settings, "--userDir", user, "--port", str(plant.port)]
    plant.options = [*own, PLANT / "flows.json"]
    try:
        plant.start()
        status, _, job = plant.order(order("RC-1013"))
        expect(status == 201 and len(job["controlRecipes"]) == 2, "it has its control recipes", status, job)
        expect("[error]" not in plant.log(), "and no node failed", plant.log())
    finally:
        plant.stop()
