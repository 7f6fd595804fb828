from PySide6.QtWidgets import QApplication, QMainWindow
from PySide6.QtTest import QTest
from window_driving import *
import pytest
@pytest.mark.parametrize("n",[1,2,3])
def test_k(qapp,n):
    w=QMainWindow(); w.resize(SIZE); w.show(); w.activateWindow()
    print(QTest.qWaitForWindowActive(w))
    for i in range(6):
        QApplication.processEvents(); print("active", i, w.isActiveWindow(), QApplication.focusWindow())
    w.close()
    assert 0
def test_j(qapp,tmp_path):
    d=Desk(Settings(boards_folder="/tmp/x/nob"))
    w=MainWindow(d,asker=d.answers,executor=InlineExecutor()); w.show(); w.activateWindow(); print(QTest.qWaitForWindowActive(w))
    for i in range(6):
        QApplication.processEvents(); print("active", i, w.isActiveWindow(), QApplication.focusWindow())
    w.close()
    assert 0
