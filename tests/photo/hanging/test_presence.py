"""Missing and swapped coupons are noticed, and nothing else is taken for one."""

import numpy as np
from hung_boards import BROWN, GREY, STEEL, Hung, grid_of, painted, rectangle

from rustboard.photo.cutting import cut_grid
from rustboard.photo.hanging.fit import fit_motions
from rustboard.photo.hanging.presence import FirstLook, presence


def hung(**how):
    outlines = grid_of(lambda x, y: rectangle(x - 28, y - 50, 56, 100), 2, 8)
    return [Hung(o, (STEEL, BROWN)[n % 2], lettering=n + 1, **how) for n, o in enumerate(outlines)]


def cuts_of(scene):
    hangs = fit_motions(scene.rgb, scene.placement, scene.frames)
    return {f.coupon: cut_grid(scene.rgb, scene.placement, f, hangs[f.coupon].motion) for f in scene.frames}, hangs


def states(first, later):
    base, _ = cuts_of(first)
    looks = {f.coupon: FirstLook(f, base[f.coupon].rgb) for f in first.frames}
    cuts, hangs = cuts_of(later)
    found = {}
    for frame in later.frames:
        key = frame.coupon
        others = {each: look for each, look in looks.items() if each != key}
        cut = cuts[key]
        found[key] = presence(cut.rgb, cut.shown, frame, looks[key], hangs[key].share_found, others)
    return found


def test_missing_coupons_are_noticed_and_no_others():
    gone = hung()
    for number in (3, 10):
        gone[number].missing = True
    found = states(painted(hung(), seed=1, grain=0.05), painted(gone, seed=2, grain=0.05, tilt=(-6.0, 5.0, 1.0)))
    assert {key for key, each in found.items() if each.state == "missing"} == {3, 10}
    assert not any(each.state == "other" for each in found.values())


def test_swapped_coupons_are_told_by_their_marks():
    swapped = hung()
    for one, other in ((4, 8), (5, 11)):
        swapped[one].lettering, swapped[other].lettering = swapped[other].lettering, swapped[one].lettering
    found = states(painted(hung(), seed=1), painted(swapped, seed=2, light=(1.1, 1.0, 0.8)))
    told = {key: each.whose for key, each in found.items() if each.state == "other"}
    # Letterings that happen to cross at the same places are left alone; what is told is right.
    assert len(told) >= 3
    assert told.items() <= {4: 8, 8: 4, 5: 11, 11: 5}.items()


def test_rust_leaves_and_shade_raise_no_alarm():
    worn = hung(rust=0.4, rusted_edge=True, debris=2)
    later = painted(worn, seed=5, board=GREY, dapples=0.4, shadow_mm=(3.0, 3.0))
    found = states(painted(hung(), seed=1, board=GREY), later)
    assert not any(each.state in {"missing", "other"} for each in found.values())


def test_a_coupon_beyond_the_photo_is_left_unsure():
    scene = painted(hung()[:1], seed=1)
    cut = cuts_of(scene)[0][0]
    nothing = np.zeros_like(cut.shown)
    assert presence(cut.rgb, nothing, scene.frames[0], FirstLook(scene.frames[0], cut.rgb), 0.0).state == "unsure"
