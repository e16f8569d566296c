"""The hands on the screens of measuring on a photo, in whatever language they are."""

from playwright.sync_api import Page

from tests.e2e.photo import measured_wall


def press_photo(page: Page, spots_px: list[measured_wall.Spot]) -> None:
    """Press the photo on the screen at these of its own pixels, one after the other."""
    for x, y in spots_px:
        box = page.locator(".photo-pen image").first.bounding_box()
        assert box
        width, height = measured_wall.PHOTO_PX
        page.mouse.click(box["x"] + x / width * box["width"], box["y"] + y / height * box["height"])


def choose(page: Page, content: bytes) -> None:
    """Hand over a file as the photo."""
    page.locator("input[data-input=file]").set_input_files({"name": "wall.jpg", "mimeType": "image/jpeg", "buffer": content})


def go_on(page: Page) -> None:
    """Press the step's main deed."""
    page.locator(".page-actions .btn-primary").click()


def to_corners(page: Page) -> None:
    """From a mark to its photo with the four corners of the sheet set."""
    page.locator(".mark-where > .deeds .btn:last-child").click()
    choose(page, measured_wall.jpeg())
    page.locator(".photo-pen image").first.wait_for()
    press_photo(page, measured_wall.on_photo(measured_wall.SHEET_MM))
    page.locator(".photo-pen .deeds .btn").wait_for()


def to_wall(page: Page) -> None:
    """The same, on to the outline found by its colour, and to the wall."""
    to_corners(page)
    go_on(page)
    press_photo(page, measured_wall.on_photo([measured_wall.IN_LOSS_MM]))
    page.locator(".photo-pen .pen-line.closed").wait_for()
    go_on(page)
    page.locator(".wall-drawing").wait_for()
