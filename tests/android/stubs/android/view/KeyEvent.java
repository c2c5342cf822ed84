package android.view;

/** A key that went down, was repeated or went up. */
public class KeyEvent {
    public static final int ACTION_DOWN = 0;
    public static final int ACTION_UP = 1;
    public static final int KEYCODE_BACK = 4;
    public static final int KEYCODE_VOLUME_UP = 24;
    public static final int KEYCODE_VOLUME_DOWN = 25;
    private final int action;
    private final int code;
    private final int repeat;

    public KeyEvent(int action, int code, int repeat) {
        this.action = action;
        this.code = code;
        this.repeat = repeat;
    }

    public int getAction() {
        return action;
    }

    public int getKeyCode() {
        return code;
    }

    public int getRepeatCount() {
        return repeat;
    }
}
