"""What a document may lack for an answer: each reason once, in words that say what to give."""

from app.document.messages import Message

NO_LOAD = Message("no-load", "needs a load")
NO_LOAD_SIZE = Message("no-load-size", "needs a load of some size")
NO_OIL = Message("no-oil", "needs the oil's bulk modulus")
NO_MASS = Message("no-mass", "needs a mass and its centre")
NO_LOAD_OR_MASS = Message("no-load-or-mass", "needs a load, or a mass and its centre")
NO_VALVE = Message("no-valve", "needs the valve's flow and smallest pulse")
NO_RELIEF = Message("no-relief", "needs the relief pressure")
NO_TOLERANCE = Message("no-tolerance", "needs a tolerance")
NO_CYLINDER = Message("no-cylinder", "this mount has no cylinder")
NOT_LOCATED = {
    "loose": Message("loose", "the mount hangs loose: hold it first"),
    "bound": Message("bound", "the mount is bound: free it first"),
}
"""Why there are no numbers, by the state of a mount that is not located."""
