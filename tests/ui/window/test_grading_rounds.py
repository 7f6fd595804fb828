"""x"""
from window_driving import grades_on_disk

def test_taps(person, yard):
    person.tap("A1")
    person.tap_grade(7)
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "7"}
