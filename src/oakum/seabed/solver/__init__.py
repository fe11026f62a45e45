"""Least squares: damped steps with any residual and Jacobian, dense or sparse, robust or plain."""
