"""The strength of a boiler by its parts: the formulas by their public names, in the modules that hold them.

Any consistent units, exact where given exact numbers, ValueError naming what is wrong. Cotter computes and records;
nothing is fit for pressure until the competent person and the inspecting body say so.
"""

from .boiler_joints import RivetedJoint, ligament_efficiency, riveted_joint
from .boiler_plates import head_segment, stayed_plate_pressure
from .boiler_shells import shell_pressure, shell_thickness
from .boiler_stays import stay_load, stay_stress

__all__ = [
    "RivetedJoint",
    "head_segment",
    "ligament_efficiency",
    "riveted_joint",
    "shell_pressure",
    "shell_thickness",
    "stay_load",
    "stay_stress",
    "stayed_plate_pressure",
]
