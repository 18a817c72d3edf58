"""Time of the reference library's native build: decode a photo, find the markers, refine their corners, locate the card.

python3 native.py PHOTO FOCAL_PX LAYOUT.json RUNS; prints the median of the runs, ms.
"""
import json, statistics, sys, time
import cv2
import numpy as np

photo, focal, layout, runs = sys.argv[1], float(sys.argv[2]), json.load(open(sys.argv[3])), int(sys.argv[4])
dictionary = cv2.aruco.Dictionary_get(cv2.aruco.DICT_4X4_50)
parameters = cv2.aruco.DetectorParameters_create()
parameters.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
times = []
for _ in range(runs):
    begun = time.perf_counter()
    grey = cv2.imread(photo, cv2.IMREAD_GRAYSCALE)
    corners, ids, _ = cv2.aruco.detectMarkers(grey, dictionary, parameters=parameters)
    found = [(layout[str(i)], c[0]) for i, c in zip(ids.ravel().tolist(), corners) if str(i) in layout]
    mm = np.array([[x, y, 0] for place, _ in found for x, y in place], np.float64)
    px = np.array([p for _, c in found for p in c], np.float64)
    h, w = grey.shape
    camera = np.array([[focal, 0, (w - 1) / 2], [0, focal, (h - 1) / 2], [0, 0, 1]])
    ok, _, _ = cv2.solvePnP(mm, px, camera, None)
    assert ok and len(found) == 4
    times.append((time.perf_counter() - begun) * 1000)
print(json.dumps({"ms": statistics.median(times), "version": cv2.__version__}))
