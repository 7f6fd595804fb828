"""Pictures that do not say which coupon they show say as little when the disk refuses them."""

import pytest

from rustboard.session.jobs import Progress
from rustboard.session.nameless_pictures import NamelessPictures, cut_nameless
from rustboard.session.pictures import CutRequest
from rustboard.support.problems import InputError

FLAT = (1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 1.0)
OUTLINE = ((0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0))


def put_nothing(path):
    """Leave no file there."""


@pytest.mark.parametrize("put", [put_nothing, lambda path: path.mkdir(), lambda path: path.write_bytes(b"none")])
def test_the_name_of_a_photo_that_cannot_be_read_is_not_told(tmp_path, put):
    photo = tmp_path / "wax-left.jpg"
    put(photo)
    request = NamelessPictures(CutRequest(1, photo, "", FLAT, {1: OUTLINE}, "", 100), {})
    with pytest.raises(InputError) as caught:
        cut_nameless(request, Progress())
    assert str(caught.value) == caught.value.problem.what != ""
    assert "wax" not in str(caught.value)
