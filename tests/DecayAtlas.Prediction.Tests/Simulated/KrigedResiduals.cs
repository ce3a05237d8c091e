using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Prediction.Tests.Simulated;

/// <summary>Simple kriging of residuals, in the plainest way and on a flat map, as somebody might do by hand.</summary>
internal static class KrigedResiduals
{
    public static double[] At(GeoPoint[] points, GeoPoint[] rows, double[] residuals, ErrorCorrelation errors, double ofRows)
    {
        if (errors.RangeMetres == 0)
            return new double[points.Length];
        Matrix<double> covariance = Matrix<double>.Build.Dense(rows.Length, rows.Length, (i, j) =>
            Alike(rows[i], rows[j]) + (i == j ? errors.Nugget + ofRows : 0));
        double[] weighed = [.. covariance.Cholesky().Solve(Vector<double>.Build.DenseOfArray(residuals))];
        return [.. points.Select(p =>
        {
            double sum = 0;
            for (int i = 0; i < rows.Length; i++)
                sum += weighed[i] * Alike(p, rows[i]);
            return sum;
        })];

        double Alike(GeoPoint one, GeoPoint two)
        {
            double north = 111_200 * (one.LatitudeDegrees - two.LatitudeDegrees);
            double east = 111_300 * (one.LongitudeDegrees - two.LongitudeDegrees) * Math.Cos(Math.PI / 180 * one.LatitudeDegrees);
            return errors.Sill * Math.Exp(-Math.Sqrt(north * north + east * east) / errors.RangeMetres);
        }
    }
}
