"""How is it published? Every page that leaves the project.

``matter`` gathers what there is to say, ``article`` and ``sheet`` say it in ``blocks``, ``markup`` and ``marked`` write
blocks as HTML and Markdown, ``references`` and ``notes`` keep the numbers, ``files`` puts pages on disk.
"""

from reconlab.writeup.files import write

__all__ = ["write"]
