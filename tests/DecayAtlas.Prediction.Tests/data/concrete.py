# scikit-learn on the folds of concrete.csv (see concrete.R). Run in this folder: python3 concrete.py >> concrete-reference.txt
import csv
import numpy as np
from sklearn.ensemble import GradientBoostingRegressor, HistGradientBoostingRegressor, RandomForestRegressor

rows = list(csv.DictReader(open("concrete.csv")))
names = [n for n in rows[0] if n not in ("compressive_strength", "fold")]
x = np.array([[float(r[n]) for n in names] for r in rows])
y = np.array([float(r["compressive_strength"]) for r in rows])
fold = np.array([int(r["fold"]) for r in rows])
makers = {
    "sklearn-forest": lambda s: RandomForestRegressor(200, min_samples_leaf=1, max_features=0.7, random_state=s, n_jobs=1),
    "sklearn-boosted": lambda s: GradientBoostingRegressor(n_estimators=200, learning_rate=0.1, max_leaf_nodes=8, max_depth=None, min_samples_leaf=5, subsample=0.8, random_state=s),
    "sklearn-histogram-boosted": lambda s: HistGradientBoostingRegressor(max_iter=200, learning_rate=0.1, max_leaf_nodes=8, min_samples_leaf=5, l2_regularization=1, early_stopping=False, random_state=s),
}
for name, make in makers.items():
    for seed in range(1, 4):
        p = np.zeros(len(y))
        for f in range(5):
            p[fold == f] = make(seed).fit(x[fold != f], y[fold != f]).predict(x[fold == f])
        e = p - y
        print(name, seed, "%.6g %.6g" % (np.sqrt((e**2).mean()), 1 - (e**2).sum() / ((y - y.mean()) ** 2).sum()))
