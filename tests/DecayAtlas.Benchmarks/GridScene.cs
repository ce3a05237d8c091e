using System.Diagnostics;
using System.Runtime.InteropServices;

namespace DecayAtlas.Benchmarks;

/// <summary>Makes the grids and points of the grid benchmark, the same numbers every time.</summary>
internal static class GridScene
{
    public const int Columns = 21600;
    public const int Rows = 10800;

    /// <summary>A world at one minute: hills of several sizes with a little roughness, the sea missing; whole numbers of 16 bits in
    /// deflated tiles.</summary>
    public static string WriteGeoTiff(string folder)
    {
        string raw = Path.Combine(folder, "world.bil"), path = Path.Combine(folder, "world.tif");
        File.WriteAllText(Path.Combine(folder, "world.hdr"),
            $"NCOLS {Columns}\nNROWS {Rows}\nNBANDS 1\nNBITS 16\nPIXELTYPE SIGNEDINT\nBYTEORDER I\nLAYOUT BIL\nULXMAP "
            + $"{-180 + 0.5 / 60:R}\nULYMAP {90 - 0.5 / 60:R}\nXDIM {1 / 60.0:R}\nYDIM {1 / 60.0:R}\nNODATA -32768\n");
        using (FileStream file = File.Create(raw))
        {
            short[] row = new short[Columns];
            for (int y = 0; y < Rows; y++)
            {
                for (int x = 0; x < Columns; x++)
                    row[x] = Height(x, y);
                file.Write(MemoryMarshal.AsBytes(row.AsSpan()));
            }
        }

        Must("gdal_translate", "-q", "-a_srs", "EPSG:4326", "-co", "TILED=YES", "-co", "COMPRESS=DEFLATE", raw, path);
        File.Delete(raw);
        return path;
    }

    /// <summary>Twelve months of 4320 x 2160 cells, packed in 16 bits, in chunks of 1 x 270 x 540, shuffled and deflated.</summary>
    public static string WriteNetCdf(string folder)
    {
        string path = Path.Combine(folder, "months.nc"), script = Path.Combine(folder, "months.py");
        File.WriteAllText(script, """
            import sys, numpy as np, netCDF4
            d = netCDF4.Dataset(sys.argv[1], "w")
            for name, n in (("time", 12), ("lat", 2160), ("lon", 4320)): d.createDimension(name, n)
            t = d.createVariable("time", "f8", ("time",)); t.units = "days since 2001-01-01"; t.calendar = "standard"
            t[:] = [15, 45, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349]
            y = d.createVariable("lat", "f8", ("lat",)); y.units = "degrees_north"; y[:] = 90 - (np.arange(2160) + 0.5) / 12
            x = d.createVariable("lon", "f8", ("lon",)); x.units = "degrees_east"; x[:] = -180 + (np.arange(4320) + 0.5) / 12
            v = d.createVariable("tas", "i2", ("time", "lat", "lon"), zlib=True, shuffle=True, complevel=4, chunksizes=(1, 270, 540), fill_value=-32768)
            v.scale_factor = 0.01; v.add_offset = 0.0; v.units = "degC"; v.set_auto_maskandscale(False)
            r = np.random.default_rng(5)
            lat, lon = np.meshgrid(y[:], x[:], indexing="ij")
            for m in range(12):
                warm = 27 - 45 * np.sin(np.radians(lat)) ** 2 + 12 * np.cos(np.radians(30 * (m - 6))) * np.sin(np.radians(lat)) + 4 * np.sin(np.radians(7 * lon)) * np.cos(np.radians(9 * lat))
                z = np.round(100 * warm).astype("i2") + r.integers(-20, 21, warm.shape).astype("i2")
                z[np.sin(np.radians(3 * lon)) * np.cos(np.radians(5 * lat)) < -0.4] = -32768
                v[m] = z
            d.close()
            """);
        Must("/usr/bin/python3", script, path);
        return path;
    }

    /// <summary>Clustered points as pairs of longitude and latitude, 64-bit floating point: a cluster has about 500 points within half a
    /// degree or so.</summary>
    public static string WritePoints(string folder, int count)
    {
        string path = Path.Combine(folder, $"points-{count}.bin");
        Random random = new(11);
        double[] points = new double[2 * count];
        (double X, double Y)[] centres = [.. Enumerable.Range(0, Math.Max(1, count / 500))
            .Select(_ => (random.NextDouble() * 350 - 175, random.NextDouble() * 130 - 60))];
        for (int i = 0; i < count; i++)
        {
            // In no order, as the sites of many contributions are.
            (double x, double y) = centres[random.Next(centres.Length)];
            double radius = 0.5 * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())), angle = 2 * Math.PI * random.NextDouble();
            points[2 * i] = x + radius * Math.Cos(angle);
            points[2 * i + 1] = y + radius * Math.Sin(angle);
        }

        File.WriteAllBytes(path, MemoryMarshal.AsBytes(points.AsSpan()).ToArray());
        return path;
    }

    private static short Height(int x, int y)
    {
        double a = x * (2 * Math.PI / Columns), b = y * (Math.PI / Rows);
        double hills = 900 * Math.Sin(3 * a) * Math.Sin(4 * b) + 500 * Math.Sin(17 * a + 3) * Math.Sin(19 * b)
            + 220 * Math.Sin(97 * a) * Math.Sin(113 * b + 1) + 70 * Math.Sin(611 * a + b) * Math.Sin(733 * b);
        if (hills < -600)
            return short.MinValue;
        uint hash = unchecked((uint)x * 374761393u + (uint)y * 668265263u);
        hash = unchecked((hash ^ (hash >> 13)) * 1274126177u);
        return (short)(hills + (hash >> 28)); // roughness of 4 bits
    }

    private static void Must(string program, params string[] args)
    {
        using Process process = Process.Start(program, args);
        process.WaitForExit();
        if (process.ExitCode != 0)
        {
            throw new InvalidOperationException($"{program} ended with exit code {process.ExitCode}; the benchmark needs gdal-bin, "
                + "python3 with netCDF4, rasterio and xarray, and R with terra.");
        }
    }
}
