using System.Globalization;
using System.Numerics;

namespace Incubation.Core.Genetics;

/// <summary>An exact share such as 1/4, always in lowest terms with a positive denominator; the default value is 0.</summary>
public readonly record struct Fraction
{
    private readonly long _denominatorLessOne;

    /// <summary>Creates numerator/denominator in lowest terms.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The denominator is zero.</exception>
    public Fraction(long numerator, long denominator)
    {
        ArgumentOutOfRangeException.ThrowIfZero(denominator);
        long divisor = (long)BigInteger.GreatestCommonDivisor(numerator, denominator);
        if (denominator < 0)
        {
            divisor = -divisor;
        }

        Numerator = numerator / divisor;
        _denominatorLessOne = (denominator / divisor) - 1;
    }

    /// <summary>Upper part; carries the sign.</summary>
    public long Numerator { get; }

    /// <summary>Lower part, ≥ 1.</summary>
    public long Denominator => _denominatorLessOne + 1;

    /// <summary>The share as a double, for drawing and for probabilities.</summary>
    public double Value => (double)Numerator / Denominator;

    /// <summary>Nothing.</summary>
    public static Fraction Zero => default;

    /// <summary>All.</summary>
    public static Fraction One => new(1, 1);

    /// <summary>Sum.</summary>
    /// <exception cref="OverflowException">The result does not fit into 64 bits.</exception>
    public static Fraction operator +(Fraction left, Fraction right) =>
        new((left.Numerator * right.Denominator) + (right.Numerator * left.Denominator), left.Denominator * right.Denominator);

    /// <summary>Difference.</summary>
    /// <exception cref="OverflowException">The result does not fit into 64 bits.</exception>
    public static Fraction operator -(Fraction left, Fraction right) => left + new Fraction(-right.Numerator, right.Denominator);

    /// <summary>Product.</summary>
    /// <exception cref="OverflowException">The result does not fit into 64 bits.</exception>
    public static Fraction operator *(Fraction left, Fraction right) =>
        new(left.Numerator * right.Numerator, left.Denominator * right.Denominator);

    /// <summary>Sum, for languages without operators.</summary>
    public static Fraction Add(Fraction left, Fraction right) => left + right;

    /// <summary>Difference, for languages without operators.</summary>
    public static Fraction Subtract(Fraction left, Fraction right) => left - right;

    /// <summary>Product, for languages without operators.</summary>
    public static Fraction Multiply(Fraction left, Fraction right) => left * right;

    /// <summary>As written on a page: <c>1/4</c>, or a whole number alone.</summary>
    public override string ToString() => Denominator == 1
        ? Numerator.ToString(CultureInfo.InvariantCulture)
        : string.Create(CultureInfo.InvariantCulture, $"{Numerator}/{Denominator}");
}
