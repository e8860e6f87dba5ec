"""The short pages for those who sketch, teach and sell: what each does with the tool, step by step."""

from dataclasses import dataclass

from app.guides.document import PartWords


@dataclass(frozen=True)
class Step:
    """One thing to do: what it is called, how it is done, and where it starts."""

    head: str
    words: str
    link: str = ""
    link_words: str = ""


@dataclass(frozen=True)
class Guide:
    """A page: steps for one kind of user, or the parts of the document."""

    name: str
    title: str
    lead: str
    steps: tuple[Step, ...] = ()
    parts: tuple[PartWords, ...] = ()


GUIDES = (
    Guide(
        "sketch",
        "Sketch",
        "For the designer: from a bare blade to numbers that hold, and on to the workshop.",
        (
            Step(
                "Begin.",
                "Take the shipped mount nearest to yours, or a bare blade from the library. Your copy is kept as you "
                "go.",
                "/#n=3-twin-cylinders",
                "Start from two upright cylinders",
            ),
            Step(
                "Enter what is given.",
                "Numbers takes blade width, mass, load, oil, valve, tolerance and allowances, in mm or inches: 850, "
                "33 1/2 in, 2' 9\". Cylinders come in usual bores and rods; new joints start with a likely clearance, "
                "not with none.",
            ),
            Step(
                "Draw.",
                "Pick pin, rod, cylinder or slide, then tap where it goes; the body it would be joined to lights up. "
                "What hangs loose or is bound is said in words, with what would hold or free it.",
            ),
            Step(
                "Drag until it is right.",
                "Watch coupling, worst edge error and cylinder load; rest the hand and the true worst is searched. "
                "Drag one cylinder outward and the point the blade turns about, when the other works, walks with "
                "it. Turn on alike and "
                "both sides move together. Out of a cylinder's reach, fit it to the distance.",
            ),
            Step(
                "Try another way beside it.",
                "Variants on the sheet keeps a copy that names what it comes from, and shows that as a ghost. The keys "
                "comma and full stop switch; the table sets the four numbers of each against the sheet. Steps lists "
                "what was done, to go back to any of it.",
            ),
            Step(
                "Ask what helps most.",
                "Improve lists the small steps that gain most, each made and worked out again, and how far play may "
                "grow by wear. Under Error, the spread shows how often the tolerance is passed.",
            ),
            Step("Check one number.", "Click it: the sum behind it opens, with this mount's own lengths lit up."),
            Step(
                "Take it along.",
                "files writes DXF for a drawing program, PDF to scale for paper, CSV for a spreadsheet, the document "
                "itself, or a link that carries the whole mount.",
            ),
        ),
    ),
    Guide(
        "teach",
        "Teach",
        "For the trainer: why a short lever makes slop large and a pivot makes a see-saw, in ten minutes "
        "on a projector.",
        (
            Step(
                "Put the see-saw on the wall.",
                "wall, or the key w: the drawing, and one sum at a time in large letters. Digits 1 to 9 change the "
                "mount, "
                "n builds the sum line by line, Escape leaves.",
                "/#n=1-centre-pivot",
                "Open the see-saw",
            ),
            Step(
                "Take a lesson that is ready.",
                "lessons, or the key t, has three of ten minutes; n, or a clicker's page down, goes on through "
                "questions, answers and sums. Write your own from the sheet as it is, step by step; a lesson is kept, "
                "and goes to others as a file.",
                "/#lesson=1-short-lever",
                "Teach why a short lever makes slop large",
            ),
            Step(
                "Ask the class first.",
                "ask the class, or the key q: the question stands alone, and nothing on the drawing gives it away. "
                "Choose another in the strip. Guesses are typed there, or sent from phones that watch along; the key n "
                "shows the answer among them, and then its sum. Served to the network, a phone with your own key steps "
                "the wall for you.",
            ),
            Step(
                "Work the cylinder.",
                "to and fro leaves a trace at both ends; the dashed one is the end that should stay.",
            ),
            Step("Let the play show.", "Swing the play from stop to stop, 1 to 100 times life size."),
            Step(
                "Do the sum.",
                "coupling, lever, play, oil and error each take the wall: the two level distances and their ratio, "
                "each clearance times its multiplier, the sum along the band of the tolerance. What a line measures "
                "lights up on the drawing. working goes through every formula, page by page.",
            ),
            Step(
                "Correct one end.",
                "The see-saw has one cylinder for two ends: what one gains the other loses. With two upright "
                "cylinders, "
                "begun at the end that is out, one move at each end leaves less than a hundredth of the error at "
                "the sensors.",
                "/#n=3-twin-cylinders",
                "Open two upright cylinders",
            ),
            Step(
                "Check it against iron.",
                "Under Error, the load test says what a dial gauge at each end reads when a jack pushes with a known "
                "force, and which play that push turns over. Block the blade before anyone works under it.",
            ),
        ),
    ),
    Guide(
        "sell",
        "Sell",
        "For the sales engineer: ten minutes at the customer's table, without a network.",
        (
            Step(
                "Put two mounts side by side.",
                "Choose one for each side: shipped, from your library, or from a file.",
                "/compare",
                "Open side by side",
            ),
            Step(
                "Take the customer's numbers.",
                "Blade width, load, tolerance and clearance go into both at once. Where the two still differ, it says "
                "so, and a button puts one's value into both.",
            ),
            Step(
                "Move both ends.",
                "The same movement, asked of the ends, moves both mounts. Lay them over one another to see it.",
            ),
            Step(
                "Read the table out.",
                "Each mount by itself first: does it pass, and how much more load turns a joint over. Then where "
                "either is better, in one sentence each way; where two numbers do not compare it says why. Below that "
                "the same over the whole travel of each, and over the same grading run.",
            ),
            Step("Try what the customer proposes.", "Drag a joint in either drawing; undo takes it back."),
            Step(
                "Leave a page behind.",
                "handout prints both on two pages at most, A4 or Letter, with your own title and note. A single mount "
                "fits one page.",
                "/handout",
                "Open a handout",
            ),
        ),
    ),
)
