namespace DecayAtlas.Benchmarks;

/// <summary>The peers: each reads the same points, takes the values, and prints wall seconds, processor seconds, and sum and count of the
/// values.</summary>
internal static class GridPeers
{
    public const string Terra = """
        suppressMessages(library(terra))
        args <- commandArgs(TRUE)
        n <- file.size(args[2]) / 16
        p <- matrix(readBin(args[2], "double", 2 * n), ncol = 2, byrow = TRUE)
        before <- proc.time()
        r <- rast(args[1])
        v <- extract(r, p, method = args[3])
        took <- proc.time() - before
        m <- as.matrix(v)
        cat(sprintf("%.3f %.3f %.6f %d\n", took[["elapsed"]], took[["user.self"]] + took[["sys.self"]], sum(m, na.rm = TRUE), sum(!is.na(m))))
        """;

    public const string Rasterio = """
        import sys, time, numpy as np, rasterio
        p = np.fromfile(sys.argv[2]).reshape(-1, 2)
        w, c = time.time(), time.process_time()
        with rasterio.open(sys.argv[1]) as r:
            v = np.array([x[0] for x in r.sample(p)]).astype(float)
            v[v == r.nodata] = np.nan
        print(f"{time.time() - w:.3f} {time.process_time() - c:.3f} {np.nansum(v):.6f} {np.sum(~np.isnan(v))}")
        """;

    public const string Xarray = """
        import sys, time, numpy as np, xarray as xr
        p = np.fromfile(sys.argv[2]).reshape(-1, 2)
        w, c = time.time(), time.process_time()
        d = xr.open_dataset(sys.argv[1])["tas"]
        lon, lat = xr.DataArray(p[:, 0], dims="p"), xr.DataArray(p[:, 1], dims="p")
        if sys.argv[3] == "simple":
            v = np.concatenate([d[m].load().sel(lon=lon, lat=lat, method="nearest").values for m in range(12)]).astype(float)
        else:
            v = np.concatenate([d[m].load().interp(lon=lon, lat=lat).values for m in range(12)]).astype(float)
        print(f"{time.time() - w:.3f} {time.process_time() - c:.3f} {np.nansum(v):.6f} {np.sum(~np.isnan(v))}")
        """;
}
