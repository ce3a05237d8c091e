using MathNet.Numerics.LinearAlgebra;

namespace DecayAtlas.Decomposition.Mixed;

/// <summary>Which of the numbers move freely, and how the rest follow.</summary>
internal interface INumbersMap
{
    double[] Reduce(double[] numbers);

    double[] Expand(double[] free);

    /// <summary>Derivatives of all numbers (rows) in the free ones.</summary>
    Matrix<double> Jacobian(double[] free);
}

/// <summary>All numbers free, but for those that stand at zero.</summary>
internal sealed class FreeNumbers : INumbersMap
{
    private readonly double[] _fixed;

    public FreeNumbers(MixedParameters parameters)
    {
        _fixed = new double[parameters.Places.Length];
        Free = [.. Enumerable.Range(0, _fixed.Length)];
    }

    /// <summary>Holds the numbers of variances that are zero, and the covariance with a leading one.</summary>
    public FreeNumbers(MixedParameters parameters, double[] numbers, params int[] held)
        : this(parameters)
    {
        bool[] isHeld = new bool[numbers.Length];
        numbers.CopyTo(_fixed, 0);
        for (int j = 0; j < numbers.Length; j++)
        {
            int place = parameters.Places[j], leading = MixedParameters.Place(place / 4, parameters.Lead, parameters.Lead);
            int at = MixedParameters.IsDiagonal(place) ? j : Array.IndexOf(parameters.Places, leading);
            isHeld[j] = numbers[at] == 0 || held.Contains(j);
        }

        Free = [.. Enumerable.Range(0, numbers.Length).Where(j => !isHeld[j])];
    }

    public int[] Free { get; }

    public double[] Reduce(double[] numbers) => [.. Free.Select(j => numbers[j])];

    public double[] Expand(double[] free)
    {
        double[] numbers = [.. _fixed];
        for (int i = 0; i < free.Length; i++)
            numbers[Free[i]] = free[i];
        return numbers;
    }

    public Matrix<double> Jacobian(double[] free) =>
        Matrix<double>.Build.Dense(_fixed.Length, free.Length, (i, j) => i == Free[j] ? 1 : 0);
}

/// <summary>One block's leading variance held at odds times the sum of all others' leading variances.</summary>
internal sealed class ShareNumbers : INumbersMap
{
    private readonly int _share, _count;
    private readonly int[] _others, _free;
    private readonly double _odds;

    public ShareNumbers(MixedParameters parameters, int block, double odds)
    {
        int[] places = parameters.Places;
        int lead = parameters.Lead;
        _count = places.Length;
        _odds = odds;
        _share = Array.IndexOf(places, MixedParameters.Place(block, lead, lead));
        _others = [.. Enumerable.Range(0, _count).Where(j => j != _share && places[j] % 4 == 3 * lead)];
        int cross = Array.IndexOf(places, MixedParameters.Place(block, 1 - lead, lead));
        _free = [.. Enumerable.Range(0, _count).Where(j => j != _share && !(odds == 0 && j == cross))];
    }

    public double[] Reduce(double[] numbers) => [.. _free.Select(j => numbers[j])];

    public double[] Expand(double[] free)
    {
        double[] numbers = new double[_count];
        for (int i = 0; i < free.Length; i++)
            numbers[_free[i]] = free[i];
        numbers[_share] = Math.Sqrt(_odds * _others.Sum(j => numbers[j] * numbers[j]));
        return numbers;
    }

    public Matrix<double> Jacobian(double[] free)
    {
        double[] numbers = Expand(free);
        return Matrix<double>.Build.Dense(_count, free.Length, (i, j) =>
            i == _free[j] ? 1
            : i == _share && _odds > 0 && _others.Contains(_free[j]) ? _odds * numbers[_free[j]] / numbers[_share]
            : 0);
    }
}
